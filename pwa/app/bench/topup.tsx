// A vessel weighed before and after heating, or clean and poured out: what went off, got in or stayed behind.

import { useView } from '../book';
import { Choice } from '../parts/choice';
import { Note } from '../parts/note';
import { Trouble } from '../parts/trouble';
import type { PanelProps } from './add';
import { Pad } from './pad';
import { SideFoot } from './sidefoot';
import { Slots } from './slots';
import { beside, type Beside } from './step';

const heated = [
  { at: 'full', label: 'before heating', unit: 'g' },
  { at: 'text', label: 'after heating', unit: 'g' },
  { at: 'empty', label: 'empty, if known', unit: 'g' },
] as const;

const emptied = [
  { at: 'empty', label: 'clean and empty', unit: 'g' },
  { at: 'text', label: 'poured out', unit: 'g' },
] as const;

const ways = [
  { value: 'covered', text: 'covered' },
  { value: 'bare', text: 'uncovered' },
  { value: 'poured', text: 'poured out' },
];

export function TopUpPanel({ batch, act, of, change, close, open }: PanelProps & { open: (what: Beside) => void }) {
  const way = of.way ?? 'covered';
  const slots: readonly { at: 'full' | 'text' | 'empty'; label: string; unit: string }[] = way === 'poured' ? emptied : heated;
  const args = { batch, phase: of.phase, tare: of.empty ?? '', before: of.full, after: of.text, covered: way === 'covered', poured: way === 'poured' };
  const answer = useView('topup', args);
  const now = answer?.ok ? answer.value : undefined;
  const write = async () => {
    if (!(await act.run('batch.topup', args))) return;
    if (now?.putBack) open({ ...beside('add', of.phase, now.line), text: now.putBack, why: 'to top up' });
    else close();
  };
  const at = slots.find((s) => s.at === of.at)?.at ?? (way === 'poured' ? 'empty' : 'full');
  const typed = (slot: 'full' | 'text' | 'empty') => (slot === 'full' ? of.full : slot === 'empty' ? (of.empty ?? '') : of.text);
  return (
    <>
      <div class="body step" data-step="topup">
        <Choice label="The vessel" quiet options={ways} value={way} set={(w) => change({ way: w })} />
        <Slots slots={slots} at={at} value={typed} choose={(slot) => change({ at: slot })} />
        <p class="aid-says" aria-live="polite" data-part="topup-says">
          {now?.says || <span class="faint">Weigh it with what is in it, both times the same way.</span>}
        </p>
        {now?.findings.map((f) => (
          <Note key={f.rule} of={f} />
        ))}
        <Trouble error={act.error} />
        <Pad text={typed(at)} set={(text) => change({ [at]: text })} enter={() => void write()} />
      </div>
      <SideFoot close={close} text={now?.key || 'Write'} part="write-topup" disabled={act.busy || !now?.key} write={write} />
    </>
  );
}
