// A vessel weighed before and after heating, or clean and poured out: what went off, got in or stayed behind.

import { useView } from '../book';
import { Choice } from '../parts/choice';
import { Note } from '../parts/note';
import { Trouble } from '../parts/trouble';
import type { PanelProps } from './add';
import { Pad } from './pad';
import { SideFoot } from './sidefoot';
import { beside, type Beside } from './step';

const heated = [
  { at: 'full', label: 'before heating' },
  { at: 'text', label: 'after heating' },
  { at: 'empty', label: 'empty, if known' },
] as const;

const emptied = [
  { at: 'empty', label: 'clean and empty' },
  { at: 'text', label: 'poured out' },
] as const;

const ways = [
  { value: 'covered', text: 'covered' },
  { value: 'bare', text: 'uncovered' },
  { value: 'poured', text: 'poured out' },
];

export function TopUpPanel({ batch, act, of, change, close, open }: PanelProps & { open: (what: Beside) => void }) {
  const way = of.way ?? 'covered';
  const slots = way === 'poured' ? emptied : heated;
  const args = { batch, phase: of.phase, tare: of.empty ?? '', before: of.full, after: of.text, covered: way === 'covered', poured: way === 'poured' };
  const answer = useView('topup', args);
  const now = answer?.ok ? answer.value : undefined;
  const write = async () => {
    if (!(await act.run('batch.topup', args))) return;
    if (now?.putBack) open({ ...beside('add', of.phase, now.line), text: now.putBack, why: 'to top up' });
    else close();
  };
  const at = slots.some((s) => s.at === of.at) ? of.at : slots[0].at;
  const typed = (slot: (typeof slots)[number]['at']) => (slot === 'full' ? of.full : slot === 'empty' ? (of.empty ?? '') : of.text);
  return (
    <>
      <div class="body step" data-step="topup">
        <Choice label="The vessel" quiet options={ways} value={way} set={(w) => change({ way: w })} />
        <div class="slots">
          {slots.map((slot) => (
            <button key={slot.at} type="button" class="slot" aria-pressed={at === slot.at} data-slot={slot.at} onClick={() => change({ at: slot.at })}>
              <small>{slot.label}</small>
              <b class="num">
                {typed(slot.at) || '…'} <span class="unit">g</span>
              </b>
            </button>
          ))}
        </div>
        <p class="aid-says" aria-live="polite" data-part="topup-says">
          {now?.says || <span class="faint">Weigh it with what is in it, both times the same way.</span>}
        </p>
        {now?.findings.map((f) => (
          <Note key={f.rule} of={f} />
        ))}
        <Trouble error={act.error} />
        <Pad text={typed(at === 'full' || at === 'empty' ? at : 'text')} set={(text) => change({ [at]: text })} enter={() => void write()} />
      </div>
      <SideFoot close={close} text={now?.key || 'Write'} part="write-topup" disabled={act.busy || !now?.key} write={write} />
    </>
  );
}
