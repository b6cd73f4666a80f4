// Rows that wait for the owner's word: they are in the book, and count for nothing until then.

import { useAct } from '../act';
import { useView } from '../book';
import { Trouble } from '../parts/trouble';
import { levelWord } from '../words';

export function WaitingNote() {
  const answer = useView('waiting', {});
  const act = useAct();
  if (!answer?.ok || answer.value.count === 0) return null;
  const { says, mine } = answer.value;
  return (
    <div role="note" class="note note-care demo" data-part="waiting">
      <i class="word">{levelWord.care}</i> {says}
      {mine && (
        <span class="acts">
          <button type="button" class="quiet" disabled={act.busy} onClick={() => void act.run('waiting.accept', {})}>
            Accept, as the owner
          </button>
        </span>
      )}
      <Trouble error={act.error} />
    </div>
  );
}
