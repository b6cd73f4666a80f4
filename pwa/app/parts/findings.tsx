// Findings of a whole sheet or record as a list: three open, the rest behind a count, and what was not checked behind its own.

import { useState } from 'preact/hooks';
import type { Finding } from '../../shell/contract';
import { count, heaviestFirst } from '../words';
import { Note } from './note';

/** How many notes stand open before anyone asks. */
export const OPEN_AT_FIRST = 3;

export function Findings({ of }: { of: readonly Finding[] }) {
  const [all, setAll] = useState(false);
  const checked = heaviestFirst(of.filter((f) => f.level !== 'unchecked'));
  const shown = all ? checked : checked.slice(0, OPEN_AT_FIRST);
  const rest = checked.length - shown.length;
  return (
    <div class="findings">
      {shown.map((f) => (
        <Note key={f.rule + f.line + f.phase} of={f} />
      ))}
      {rest > 0 && (
        <button type="button" class="quiet" onClick={() => setAll(true)}>
          {count(rest, 'more note', 'more notes')}
        </button>
      )}
      <NotChecked of={of} />
    </div>
  );
}

/** What could not be checked and what is missing for it: folded, but its count always stands there. */
export function NotChecked({ of, count: told }: { of: readonly Finding[]; count?: number }) {
  const unchecked = of.filter((f) => f.level === 'unchecked');
  const n = told ?? unchecked.length;
  if (n === 0 && unchecked.length === 0) return null;
  return (
    <details class="unchecked" data-part="unchecked">
      <summary>
        <i class="word">not checked</i> <span class="num">{n}</span>
      </summary>
      {unchecked.map((f) => (
        <Note key={f.rule + f.line + f.phase} of={f} />
      ))}
    </details>
  );
}
