// The pH ruler: from 3 to 10, a bar for each line that cares, hatched as its phase is; where they all meet is shaded, and the cursor
// says how much of the preservative works there. Every position is a share of the ruler's length, worked out below.

import { useState } from 'preact/hooks';
import type { Views } from '../../shell/contract';
import type { Ruler, RulerBar, RulerNotch } from '../../shell/contract-reckon';
import { hatchOf } from '../parts/hatch';
import { Note } from '../parts/note';
import { Trouble } from '../parts/trouble';
import { useAsked } from './sheet';

const HEAD = 40;
const ROW = 54;
const BAR = 13;

const along = (share: number) => `${share * 100}%`;
const long = (from: number, to: number) => `${(to - from) * 100}%`;
/** Words near the right end are written to the left of their place. */
const side = (at: number) => (at > 0.5 ? 'end' : 'start');

function Bar({ of, row, paint }: { of: RulerBar; row: number; paint: string }) {
  const top = HEAD + row * ROW;
  return (
    <g data-bar={of.line || of.why}>
      <text x="0" y={top + 15} class="ruler-name">
        {of.name}
      </text>
      <text x={along(of.from > 0.5 ? of.to : of.from)} y={top + 47} class={`ruler-range ${side(of.from)}`}>
        {of.text}
      </text>
      <rect x={along(of.from)} y={top + 20} width={long(of.from, of.to)} height={BAR} fill={paint || 'none'} class={paint ? 'ruler-bar' : 'ruler-bar plain'} />
      {of.beyondLow && <text x="-4" y={top + 31} class="ruler-beyond end">‹</text>}
      {of.beyondHigh && <text x="100%" dx="4" y={top + 31} class="ruler-beyond">›</text>}
    </g>
  );
}

function Notch({ of, newest }: { of: RulerNotch; newest: boolean }) {
  return (
    <svg x={along(of.at)} y={HEAD - 12} width="1" height="1" overflow="visible" data-part="notch">
      <path d="M-6 0H6L0 11Z" class={newest ? 'ruler-notch' : 'ruler-notch older'} />
    </svg>
  );
}

function Drawing({ of, at }: { of: Ruler; at: number }) {
  const foot = HEAD + of.bars.length * ROW + 4;
  const cursor = of.stops[at];
  return (
    <svg class="ruler-drawn" width="100%" height={foot + 4} aria-hidden="true">
      {of.overlap.open && (
        <rect class="ruler-overlap" x={along(of.overlap.from)} y={HEAD} width={long(of.overlap.from, of.overlap.to)} height={foot - HEAD} />
      )}
      {of.ticks.map((t) => (
        <g key={t.text}>
          <line x1={along(t.at)} x2={along(t.at)} y1={HEAD - 8} y2={foot} class="ruler-tick" />
          <text x={along(t.at)} y="14" class={t.inside ? 'ruler-figure inside' : 'ruler-figure'}>
            {t.text}
          </text>
        </g>
      ))}
      <line x1="0" x2="100%" y1={HEAD} y2={HEAD} class="ruler-edge" />
      {of.bars.map((bar, row) => (
        <Bar key={bar.line + bar.name} of={bar} row={row} paint={of.phases[row] ? hatchOf(of.phases[row]) : ''} />
      ))}
      {of.overlap.open && [of.overlap.from, of.overlap.to].map((x) => <line key={x} x1={along(x)} x2={along(x)} y1={HEAD} y2={foot} class="ruler-limit" />)}
      {of.notches.map((n, i) => (
        <Notch key={i} of={n} newest={i === of.notches.length - 1} />
      ))}
      {cursor && (
        <g class="ruler-cursor">
          <line x1={along(cursor.at)} x2={along(cursor.at)} y1="20" y2={foot} />
          <text x={along(cursor.at)} dx={cursor.at > 0.5 ? -6 : 6} y="34" class={side(cursor.at)}>
            pH {cursor.text}
          </text>
        </g>
      )}
    </svg>
  );
}

function Shown({ of }: { of: Ruler }) {
  const [moved, setMoved] = useState<number>();
  const at = moved ?? of.start;
  const cursor = of.stops[at];
  const said = cursor?.shares.map((s) => s.says) ?? [];
  return (
    <>
      <p class={of.overlap.open || of.bars.length === 0 ? 'ruler-says' : 'ruler-says clash'} data-part="overlap">
        {of.overlap.says}
      </p>
      {of.bars.length > 0 && (
        <div class="ruler-board">
          <Drawing of={of} at={at} />
          <input
            type="range"
            min="0"
            max={of.stops.length - 1}
            step="1"
            value={at}
            aria-label="pH on the ruler"
            aria-valuetext={cursor ? [`pH ${cursor.text}`, cursor.inside ? 'all keep' : 'not all keep', ...said].join(', ') : ''}
            onInput={(e) => setMoved(e.currentTarget.valueAsNumber)}
          />
        </div>
      )}
      <div class="ruler-shares" data-part="shares" data-inside={cursor?.inside}>
        {said.map((s) => (
          <p class="num" key={s}>
            {s}
          </p>
        ))}
      </div>
      {of.notches.map((n) => (
        <p class="remark" key={n.text + n.method}>
          measured {n.text}: {n.method}
          {n.off && ', beyond the ruler'}
        </p>
      ))}
      {of.missing && <p class="faint">{of.missing}.</p>}
      {of.notes.filter((f) => f.level !== 'unchecked').map((f) => (
        <Note key={f.rule + f.line + f.says} of={f} />
      ))}
    </>
  );
}

export function PHRuler(of: Views['ruler']['args']) {
  const [open, setOpen] = useState(false);
  const answer = useAsked('ruler', open ? of : undefined);
  return (
    <details data-part="ruler" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>The pH ruler</summary>
      {answer?.ok && <Shown of={answer.value} />}
      <Trouble error={answer && !answer.ok ? answer.error : undefined} />
    </details>
  );
}
