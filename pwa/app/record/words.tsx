// What is questioned in the maker's own words on a label: said before it is printed, and lifted with a reason that the record keeps.

import type { Batch } from '../../shell/contract';
import { useAct } from '../act';
import { besides, elsewhere, useKept } from '../book';
import { Field } from '../parts/field';
import { Note } from '../parts/note';
import { Trouble } from '../parts/trouble';

export function Words({ of }: { of: Batch }) {
  const act = useAct();
  const batch = of.row.key;
  const kept = useKept<string>(`words:${batch}`);
  const stops = of.words.some((f) => f.level === 'stop');
  const keep = async () => {
    if (await act.run('batch.words', { batch, reason: kept.value ?? '' })) kept.clear();
  };
  return (
    <>
      {of.words.map((f) => (
        <Note key={f.says} of={f} />
      ))}
      {stops && of.wordsWhy && <p class="remark">Printed all the same: {of.wordsWhy}</p>}
      {stops && !of.wordsWhy && (
        <div data-part="words">
          <Field label="Why it may be printed all the same" name="words-reason" value={kept.value ?? ''} set={kept.set} error={besides(act.error, 'reason')} hint="It stays in the record, under your name." />
          <Trouble error={elsewhere(act.error, ['reason'])} />
          <button type="button" class="btn second" disabled={act.busy} onClick={() => void keep()}>
            Keep the reason
          </button>
        </div>
      )}
    </>
  );
}
