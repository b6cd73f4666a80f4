// The jar: one outline, a layer for each phase, the rim is 100 %. What is missing is air, what is too much stands over.

import { useId } from 'preact/hooks';
import type { Layer, Level } from '../../shell/contract';
import { hatchOf } from './hatch';

interface JarProps {
  layers: readonly Layer[];
  /** height of the picture in its own units; the width is 70 */
  height?: number;
  /** at the bench: filled up to here (0 to 1), and wanted up to `target` */
  level?: number;
  target?: number;
  /** letters of the phases on the layers, for tall pictures */
  letters?: boolean;
  /** for a record: what is a little more than planned still stands in the jar */
  fit?: boolean;
  /** a line that tells how the fill stands in its container, in the ink of the finding; the sentence beside it has the figures */
  fill?: Level | undefined;
  label?: string;
}

const RIM = 26;
/** Under this many units a layer has no room for its letter. */
const LETTER_ROOM = 20;
/** How far over the rim the picture can show, in its own units. */
const HEADROOM = 46;

function body(height: number): string {
  const h = height;
  return `M8 26C4 30 3 34 3 42V${h - 24}C3 ${h - 10} 10 ${h - 4} 20 ${h - 4}H50C60 ${h - 4} 67 ${h - 10} 67 ${h - 24}V42C67 34 66 30 62 26Z`;
}

function words(layers: readonly Layer[]): string {
  if (layers.length === 0) return 'An empty jar';
  return `A jar: ${layers.map((l) => `${l.phase} ${l.percent}`).join(', ')}`;
}

export function Jar({ layers, height = 222, level, target, letters, fit, fill, label }: JarProps) {
  const id = useId();
  const floor = height - 4;
  const whole = fit ? Math.max(1, layers.reduce((all, layer) => all + layer.share, 0)) : 1;
  const y = (share: number) => floor - (share / whole) * (floor - RIM);
  let sum = 0;
  const bands = layers.map((layer) => {
    const from = sum;
    sum += layer.share;
    return { layer, top: y(sum), tall: y(from) - y(sum) };
  });
  const over = !fit && sum > 1.00001;
  const filled = level === undefined ? undefined : y(Math.min(whole, level));
  const paint = bands.map((band) => (
    <rect key={band.layer.phase} class="layer" x="0" y={band.top} width="70" height={Math.max(0, band.tall)} fill={hatchOf(band.layer.phase)} />
  ));
  return (
    <svg class="jar" viewBox={over ? `0 ${RIM - HEADROOM} 70 ${height + HEADROOM - RIM}` : `0 0 70 ${height}`} role="img" aria-label={label ?? words(layers)}>
      <clipPath id={`${id}in`}>
        <path d={body(height)} />
      </clipPath>
      <clipPath id={`${id}level`}>
        <rect x="0" y={filled ?? 0} width="70" height={height} />
      </clipPath>
      <path d={body(height)} class="glass-in" />
      <g clip-path={`url(#${id}in)`}>
        <g clip-path={`url(#${id}level)`}>{paint}</g>
        {target !== undefined && filled !== undefined && (
          <rect class="pouring" x="0" y={y(Math.min(whole, target))} width="70" height={Math.max(0, filled - y(Math.min(whole, target)))} />
        )}
        {filled === undefined && bands.slice(0, -1).map((b) => <path key={b.layer.phase} class="seam" d={`M0 ${b.top}H70`} />)}
      </g>
      {over && (
        <>
          <clipPath id={`${id}up`}>
            <rect x="8" y={RIM - HEADROOM + 2} width="54" height={HEADROOM - 2} rx="5" />
          </clipPath>
          <g clip-path={`url(#${id}up)`}>{paint}</g>
          <path class="spill" d={`M8 ${RIM}V${Math.max(RIM - HEADROOM + 2, Math.min(RIM - 5, y(sum)))}H62V${RIM}`} />
        </>
      )}
      <path d={body(height)} class="glass" />
      {target !== undefined && <path class="mark" d={`M3 ${y(Math.min(whole, target))}H67`} />}
      {fill && <path class={`mark fill-${fill}`} d={fill === 'stop' ? 'M-3 5H73' : 'M3 34H67'} />}
      {!over && <rect x="5" y="8" width="60" height="15" rx="4" class="glass cap" />}
      {over && <path class="rim" d={`M3 ${RIM}H67`} />}
      {letters &&
        bands
          .filter((b) => b.tall >= LETTER_ROOM)
          .map((b) => (
            <text key={b.layer.phase} class="jar-letter" x="35" y={b.top + b.tall / 2 + 6}>
              {b.layer.phase}
            </text>
          ))}
      {letters && !over && (
        <text class="jar-rim" x="35" y="19.5">
          100 %
        </text>
      )}
    </svg>
  );
}
