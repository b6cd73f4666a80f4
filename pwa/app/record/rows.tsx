// The record, row by row as on paper: what was corrected stays, struck through, with the reason beside it.

import { useState } from 'preact/hooks';
import type { Row } from '../../shell/contract';
import { Kept } from '../parts/kept';
import { CorrectForm } from './correct';

const correctable = ['weighed', 'temperature', 'ph', 'density', 'net', 'note', 'looked', 'aged', 'filled'];

/** A row without a value has nothing that could be put in its place. */
function canCorrect(row: Row): boolean {
  return !row.struck && !row.clash && row.value !== '' && correctable.includes(row.what);
}

export function Rows({ rows, openFirst }: { rows: readonly Row[]; openFirst?: boolean }) {
  const [correcting, setCorrecting] = useState('');
  if (rows.length === 0) return <p class="faint">Nothing yet.</p>;
  return (
    <div class="rows">
      {rows.map((row) => (
        <div key={row.entry} class={row.struck ? 'entry struck' : 'entry'} data-entry={row.entry} data-what={row.what} data-struck={row.struck}>
          <div class="entry-line">
            <span class="entry-title">{row.title}</span>
            <span class="num">{row.struck ? <s>{row.value}</s> : row.value}</span>
          </div>
          <div class="entry-foot">
            <small>{[row.detail, row.at, row.by].filter(Boolean).join(' · ')}</small>
            <Kept where={row.where} />
          </div>
          {row.struck && row.reason && (
            <p class="note note-note">
              <i class="word">corrected</i> {row.reason}
            </p>
          )}
          {row.clash && (
            <p class="note note-care">
              <i class="word">take care</i> {row.clash}
            </p>
          )}
          {canCorrect(row) && correcting !== row.entry && (
            <button type="button" class="quiet correct" aria-label={`Correct ${row.title} ${row.value}`} onClick={() => setCorrecting(row.entry)}>
              {openFirst ? 'Correct this' : 'correct'}
            </button>
          )}
          {correcting === row.entry && <CorrectForm row={row} close={() => setCorrecting('')} />}
        </div>
      ))}
    </div>
  );
}
