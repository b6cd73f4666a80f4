// The jars of the shelf by the place where they stand, batch by batch.

import { useView } from '../book';
import { Go } from '../parts/link';
import { standingAt } from '../stall/where';
import { count } from '../words';

const stops = ['held', 'discarded'];

export function ShelfJars() {
  const answer = useView('places', {});
  if (!answer?.ok) return null;
  const places = answer.value;
  const used = places.places.filter((p) => p.jars > 0);
  return (
    <section id="jars" data-part="filled">
      {used.map((p) => (
        <section key={p.key} data-place={p.what}>
          <h2 class="ph">
            <span>{p.name}</span>
            <span class="faint num">{count(p.jars, 'jar', 'jars')}</span>
          </h2>
          {standingAt(places, p.key).map((s) => (
            <Go key={s.batch} to={`/batches/${s.batch}`} class="kv">
              <span>
                {s.product}
                <small>
                  <span class="num">{s.code}</span> · {stops.includes(s.state) && <i class="word stop">stop </i>}
                  {s.says || s.state}
                </small>
              </span>
              <span class="num">{s.count}</span>
            </Go>
          ))}
        </section>
      ))}
    </section>
  );
}
