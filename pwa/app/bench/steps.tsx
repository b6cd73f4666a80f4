// The whole batch as a list: any step can be gone to, what was written can be corrected, and a note can be left.

import { useState } from 'preact/hooks';
import type { Bench } from '../../shell/contract';
import { useAct } from '../act';
import { useKept } from '../book';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';
import { Rows } from '../record/rows';
import { beside, type Beside } from './step';

interface StepsProps {
  batch: string;
  bench: Bench;
  at: number;
  choose: (step: string) => void;
  open: (what: Beside) => void;
  /** phase that the bench is at: what else goes in, goes in there */
  phase: string;
}

export function Steps({ batch, bench, at, choose, open, phase }: StepsProps) {
  const filled = bench.steps.some((s) => s.what === 'fill' && s.done);
  return (
    <div class="body" data-part="steps">
      <ol class="steps">
        {bench.steps.map((step, i) => (
          <li key={step.id}>
            <button type="button" class={step.done ? 'kv done' : 'kv'} aria-current={i === at ? 'step' : undefined} data-step-id={step.id} onClick={() => choose(step.id)}>
              <span>
                {step.phase && <b class="letter">{step.phase}</b>} {step.title}
              </span>
              <span class="num">{step.done ? step.actual || 'done' : step.target.text}</span>
            </button>
          </li>
        ))}
      </ol>
      {!filled && (
        <div class="acts">
          <button type="button" class="quiet" data-part="something-else" onClick={() => open(beside('add', phase))}>
            Something else goes in
          </button>
          <button type="button" class="quiet" data-part="cup" onClick={() => open(beside('cup', phase))}>
            Density by the cup
          </button>
        </div>
      )}
      <h2 class="ph">
        <span>written so far</span>
      </h2>
      <Rows rows={bench.rows} />
      <NoteForm batch={batch} />
    </div>
  );
}

export function NoteForm({ batch }: { batch: string }) {
  const act = useAct();
  const kept = useKept<string>(`note:${batch}`);
  const [said, setSaid] = useState(false);
  const text = kept.value ?? '';
  const keep = async () => {
    if (!(await act.run('batch.note', { batch, text }))) return;
    kept.clear();
    setSaid(true);
  };
  return (
    <div class="note-form">
      <Field
        label="A note for the record"
        name="note"
        long
        value={text}
        set={(t) => {
          setSaid(false);
          kept.set(t);
        }}
      />
      <Trouble error={act.error} />
      <button type="button" class="quiet" disabled={!text.trim() || act.busy} onClick={() => void keep()}>
        {said ? 'Kept' : 'Keep the note'}
      </button>
    </div>
  );
}
