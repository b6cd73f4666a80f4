// What went in, from the record and not from the plan.

import type { Batch } from '../../shell/contract';
import { Fig } from '../parts/figure';
import { Go } from '../parts/link';

export function WentIn({ of }: { of: Batch['wentIn'] }) {
  if (of.length === 0) return null;
  return (
    <section data-part="went-in">
      <h2 class="ph">
        <span>what went in</span>
        <span class="faint">lot · weighed</span>
      </h2>
      {of.map((w) => (
        <div key={w.line} class="row went">
          <span class="name">
            {w.name}
            <small>
              {w.lots.map((l, i) => (
                <span key={l.key}>
                  {i > 0 && ', '}
                  {l.key ? (
                    <Go to={`/shelf/lots/${l.key}`} class="inline">
                      {l.code}
                    </Go>
                  ) : (
                    l.code
                  )}
                  {w.lots.length > 1 && ` ${l.grams}`}
                </span>
              ))}
            </small>
          </span>
          <Fig of={w.percent} label={`${w.name}, per cent`} />
          <span class="num weighed">
            {w.actual ? <Fig of={{ text: w.actual, sum: w.actualSum }} label={`${w.name}, weighed`} /> : '–'}
            {w.target && w.target !== w.actual && <small>planned {w.target}</small>}
          </span>
        </div>
      ))}
    </section>
  );
}
