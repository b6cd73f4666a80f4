// What happened to a batch's jars after filling: sales, movements and counts, each with the way to correct it.

import { useView } from '../book';
import { ShelfRow } from './shelfrow';

export function Moves({ batch }: { batch: string }) {
  const answer = useView('moves', { key: batch });
  if (!answer?.ok || answer.value.length === 0) return null;
  return (
    <details class="moves" data-part="moves">
      <summary>Where its jars went</summary>
      <div class="rows">
        {answer.value.map((row) => (
          <ShelfRow key={row.entry} of={row} />
        ))}
      </div>
    </details>
  );
}
