// A finding as a note in the margin: the level's word first, then the reason and what to do. It opens to the figure, the limit, the source
// and from when that source is.

import type { Finding } from '../../shell/contract';
import { levelWord } from '../words';
import { Go } from './link';
import { MaskMark } from './mask';

function Grounds({ of }: { of: Finding }) {
  const short = [of.figure, of.limit && `limit ${of.limit}`, of.source].filter(Boolean).join(' · ');
  if (!short) return null;
  return (
    <details class="grounds">
      <summary class="src">
        <span>{short}</span>
      </summary>
      <dl>
        {[
          ['figure', of.figure],
          ['limit', of.limit],
          ['source', of.source],
          ['from', of.date],
        ].map(
          ([what, text]) =>
            text && (
              <div key={what}>
                <dt>{what}</dt>
                <dd class="num">{text}</dd>
              </div>
            ),
        )}
      </dl>
      {of.date.includes('table of law') && (
        <Go to="/settings/law" class="go tables">
          About the tables
        </Go>
      )}
    </details>
  );
}

/** What to put on, in one line, where the pad needs the room; its source stands in the margin of the formula. */
export function WearLine({ of }: { of: Finding }) {
  return (
    <p class="wear-line">
      <MaskMark size={18} /> <i class="word">{levelWord[of.level]}</i> {of.do || of.says}
    </p>
  );
}

/** paper: all of it in one line, since paper does not open. */
export function Note({ of, paper }: { of: Finding; paper?: boolean }) {
  return (
    <div role="note" class={`note note-${of.level}`} data-rule={of.rule} data-level={of.level}>
      {of.level === 'wear' && <MaskMark size={20} />}
      <i class="word">{levelWord[of.level]}</i> {of.says}
      {of.do && <span class="do">{of.do}</span>}
      {paper ? <span class="src">{[of.figure, of.limit && `limit ${of.limit}`, of.source, of.date].filter(Boolean).join(' · ')}</span> : <Grounds of={of} />}
    </div>
  );
}
