// Batches as ledger rows, the word of what to do with each at the right.

import type { BatchRow } from '../../shell/contract';
import { Kept } from './kept';
import { Go } from './link';
import { StateWord } from './stateword';

function Says({ of }: { of: BatchRow }) {
  if (of.state !== 'held' && of.state !== 'discarded') return <>{of.says}</>;
  return (
    <>
      <i class="word stop">stop</i> {of.says}
    </>
  );
}

export function BatchList({ title, rows, word, bench, look, empty }: { title: string; rows: readonly BatchRow[]; word: string; bench?: boolean; look?: boolean; empty?: string }) {
  if (rows.length === 0 && !empty) return null;
  return (
    <section data-part={`batches-${title}`}>
      <h2 class="ph">
        <span>{title}</span>
        <span class="faint num">{rows.length > 0 && rows.length}</span>
      </h2>
      {rows.length === 0 && <p class="faint">{empty}</p>}
      {rows.map((b) => (
        <Go key={b.key} to={bench ? `/make/${b.key}` : `/batches/${b.key}${look ? '/look' : ''}`} class="kv">
          <span>
            {b.name}
            <small>
              <span class="num">{b.code}</span> · {[b.purpose, b.jars].filter(Boolean).join(' · ')}
            </small>
            <small>
              {b.says ? <Says of={b} /> : <StateWord state={b.state} />} · <Kept where={b.where} />
            </small>
          </span>
          <span class="go">{word}</span>
        </Go>
      ))}
    </section>
  );
}
