// The jars of a batch: where they stand, and each one's code.

import type { JarRow } from '../../shell/contract';
import { Kept } from '../parts/kept';
import { Go } from '../parts/link';

export function Jars({ jars, says, places, open }: { jars: readonly JarRow[]; says: string; places: readonly { place: string; count: number }[]; open?: boolean }) {
  if (jars.length === 0) return says ? <p class="faint">{says}</p> : null;
  return (
    <section data-part="jars">
      <h2 class="ph">
        <span>{says || 'jars'}</span>
        <span class="faint num">{jars.length}</span>
      </h2>
      <p class="places">{places.map((p) => `${p.place} ${p.count}`).join(' · ')}</p>
      <details open={open}>
        <summary>Each jar</summary>
        <div class="jar-codes">
          {jars.map((j) => (
            <Go key={j.code} to={`/j/${j.code}`} class="kv">
              <span class="num">
                <b class="code">{j.shown}</b>
                <small>
                  jar {j.number} · {j.place}
                </small>
              </span>
              <Kept where={j.where} />
            </Go>
          ))}
        </div>
      </details>
    </section>
  );
}
