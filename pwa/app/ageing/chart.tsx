// One thing over time on ruled paper: each condition has its own mark, and readings of one method are joined. Positions are the engine's
// shares; a voice reads the figures instead.

import type { AgedChart, AgedSeries } from '../../shell/contract-ageing';
import { Fig } from '../parts/figure';

const HIGH = 132;
const along = (share: number) => `${share * 100}%`;
const down = (share: number) => HIGH - share * HIGH;

/** room is a full dot, the warm a peak, the cool a square, the window an open ring */
const marks: Record<string, string> = {
  room: 'M-5 0a5 5 0 1 0 10 0a5 5 0 1 0-10 0Z',
  warm: 'M-6 5H6L0-6Z',
  cool: 'M-5-5H5V5H-5Z',
  window: 'M-5 0a5 5 0 1 0 10 0a5 5 0 1 0-10 0ZM-2.6 0a2.6 2.6 0 1 1 5.2 0a2.6 2.6 0 1 1-5.2 0Z',
};

export function Mark({ of }: { of: string }) {
  return (
    <svg class="aged-mark" viewBox="-8 -8 16 16" width="16" height="16" aria-hidden="true">
      <path d={marks[of]} fill-rule="evenodd" />
    </svg>
  );
}

function Line({ of }: { of: AgedSeries }) {
  return (
    <g class={`aged-${of.condition}`}>
      {of.points.slice(1).map((p, i) => {
        const from = of.points[i] ?? p;
        return <line key={i} x1={along(from.x)} y1={down(from.y)} x2={along(p.x)} y2={down(p.y)} />;
      })}
      {of.points.map((p, i) => (
        <svg key={i} x={along(p.x)} y={down(p.y)} width="1" height="1" overflow="visible">
          <path d={marks[of.condition]} fill-rule="evenodd" />
        </svg>
      ))}
    </g>
  );
}

export function Series({ of, what }: { of: AgedSeries; what: string }) {
  return (
    <div class="kv" data-series={of.condition}>
      <span>
        <Mark of={of.condition} /> {of.name}
        <small>{of.says}</small>
      </span>
      <Fig of={of.drift} label={`Drift of ${what}, ${of.name}`} />
    </div>
  );
}

export function Chart({ of }: { of: AgedChart }) {
  const read = of.series.map((s) => `${s.name}: ${s.points.map((p) => p.text).join(', ')}`).join('. ');
  return (
    <section data-part={`aged-${of.what}`}>
      <h2 class="ph">
        <span>{of.what}</span>
        <span class="faint">{of.unit}</span>
      </h2>
      <div class="aged-board">
        <svg class="aged-drawn" width="100%" height={HIGH} role="img" aria-label={`${of.what} over time. ${read}`}>
          {of.values.map((v) => (
            <g key={v.text}>
              <line class="aged-rule" x1="0" x2="100%" y1={down(v.at)} y2={down(v.at)} />
              <text class="num" x="-8" y={down(v.at) + 4}>
                {v.text}
              </text>
            </g>
          ))}
          {of.days.map((d) => (
            <text key={d.text} class="aged-day num" x={along(d.at)} y={HIGH + 20}>
              {d.text}
            </text>
          ))}
          {of.series.map((s) => (
            <Line key={s.name} of={s} />
          ))}
        </svg>
      </div>
      {of.series.map((s) => (
        <Series key={s.name} of={s} what={of.what} />
      ))}
    </section>
  );
}
