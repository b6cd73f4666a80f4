// One line of the page read back: what was typed, what it was taken to mean, how much, and a choice where it is not sure.

import type { NotebookLine } from '../../shell/contract-formula';

interface ReadBackProps {
  of: NotebookLine;
  chosen: string;
  choose: (key: string) => void;
}

/** Choosing answers "which one", not what else stands in the way of a line, such as a figure without a unit. */
export function stillOpen(of: NotebookLine, chosen: string): boolean {
  const answered = chosen !== '' && of.ingredient === '' && (of.grams !== '' || of.percent !== '' || of.qs);
  return of.trouble !== '' && !answered;
}

export function ReadBack({ of, chosen, choose }: ReadBackProps) {
  const picked = of.choices.find((c) => c.key === chosen);
  const trouble = stillOpen(of, chosen) ? of.trouble.replace(/^not read: /, '') : '';
  const name = picked?.name ?? of.name;
  return (
    <li class={trouble ? 'read-line unread' : 'read-line'} data-typed={of.typed}>
      <div class="read-row">
        <span class="name">
          {name || of.typed}
          {name && <small>{of.typed}</small>}
        </span>
        <span class="num read-amount">
          {of.amount || of.grams}
          <small>{[of.percent, of.qs && 'q.s.', of.phase && name && `phase ${of.phase}`].filter(Boolean).join(' · ')}</small>
        </span>
      </div>
      {trouble ? (
        <p class="trouble">
          <i class="word">not read</i> {trouble}
        </p>
      ) : (
        of.says && !picked && <p class="remark">{of.says}</p>
      )}
      {of.choices.length > 0 && (
        <div class="chips" role="group" aria-label={`What “${of.typed}” is`}>
          {of.choices.map((c) => (
            <button key={c.key} type="button" class="chip-small" aria-pressed={c.key === (chosen || of.ingredient)} data-key={c.key} onClick={() => choose(c.key === chosen ? '' : c.key)}>
              {c.name}
            </button>
          ))}
        </div>
      )}
    </li>
  );
}
