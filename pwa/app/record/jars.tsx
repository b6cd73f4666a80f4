// The jars of a batch: where they stand, and each one's code.

import type { JarRow } from '../../shell/contract';
import { Kept } from '../parts/kept';
import { Go } from '../parts/link';

interface JarsProps {
  jars: readonly JarRow[];
  says: string;
  places: readonly { place: string; count: number }[];
  open?: boolean;
  /** how many there are when not all are listed, what says so, and how to ask for them */
  total?: number;
  more?: string;
  listAll?: () => void;
}

export function Jars({ jars, says, places, open, total, more, listAll }: JarsProps) {
  if (jars.length === 0) return says ? <p class="faint">{says}</p> : null;
  return (
    <section data-part="jars">
      <h2 class="ph">
        <span>{says || 'jars'}</span>
        <span class="faint num">{total ?? jars.length}</span>
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
        {more && (
          <p class="faint">
            {more}{' '}
            <button type="button" class="quiet" onClick={listAll}>
              List every jar
            </button>
          </p>
        )}
      </details>
    </section>
  );
}
