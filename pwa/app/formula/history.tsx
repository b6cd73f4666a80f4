// What came before: revisions of the formula, and the batches that were made from it.

import type { Formula } from '../../shell/contract';
import { Kept } from '../parts/kept';
import { Go } from '../parts/link';
import { Photos } from '../parts/photos';

export function History({ of, shown }: { of: Formula; shown: string }) {
  return (
    <div class="history">
      <Go to={`/formulas/${of.row.key}/share`} class="kv">
        <span>Share</span>
        <span class="go">file, table, card, class</span>
      </Go>
      <Photos of={{ formula: of.row.key }} />
      <details data-part="revisions">
        <summary>
          Revisions <span class="num faint">{of.revisions.length}</span>
        </summary>
        <Go to={`/formulas/${of.row.key}/compare`} class="kv">
          <span>What changed</span>
          <span class="go">side by side</span>
        </Go>
        {of.revisions.map((r) => (
          <Go key={r.revision} to={`/formulas/${of.row.key}?revision=${encodeURIComponent(r.revision)}`} class="kv" current={r.revision === shown}>
            <span>
              revision {r.number}
              <small>
                {r.saved}
                {r.by && `, ${r.by}`}
              </small>
            </span>
            <Kept where={r.where} />
          </Go>
        ))}
      </details>
      {of.batches.length > 0 && (
        <details data-part="batches">
          <summary>
            Batches <span class="num faint">{of.batches.length}</span>
          </summary>
          {of.batches.map((b) => (
            <Go key={b.key} to={`/batches/${b.key}`} class="kv">
              <span>
                <span class="num">{b.code}</span>
                <small>{b.says}</small>
              </span>
              <Kept where={b.where} />
            </Go>
          ))}
        </details>
      )}
    </div>
  );
}
