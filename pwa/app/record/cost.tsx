// What a jar cost to make, from the lots that went in. It stands on the record alone.

import { useView } from '../book';
import { Fig } from '../parts/figure';

export function Cost({ batch }: { batch: string }) {
  const answer = useView('cost', { key: batch });
  if (!answer?.ok) return null;
  const { says, jar, all, rows, unchecked } = answer.value;
  if (!says && !jar.text) return null;
  return (
    <section data-part="cost">
      <h2 class="ph">
        <span>what it cost to make</span>
      </h2>
      {jar.text && (
        <>
          <div class="kv">
            <span>each, of those made</span>
            <Fig of={jar} label="Cost of one" />
          </div>
          <div class="kv">
            <span>in all</span>
            <Fig of={all} label="Cost of the batch" />
          </div>
        </>
      )}
      {says && <p class="hint">{says}</p>}
      <details class="how">
        <summary>by ingredient, and what is not counted</summary>
        {rows.map((r) => (
          <div key={r.name} class="kv">
            <span>
              {r.name} <small class="num">{r.grams}</small>
            </span>
            <Fig of={r.cost} label={`Cost of ${r.name}`} />
          </div>
        ))}
        {unchecked.map((u) => (
          <p key={u} class="hint">
            {u}
          </p>
        ))}
      </details>
    </section>
  );
}
