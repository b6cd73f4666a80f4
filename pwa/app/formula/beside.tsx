// A formula before and after a change, as one ledger: what changes, the figures of the whole, and which findings come and go.

import type { Finding } from '../../shell/contract';
import type { FigureBeside, LineBeside } from '../../shell/contract-reckon';
import { Fig } from '../parts/figure';
import { Note } from '../parts/note';
import { count } from '../words';

interface Pair {
  key: string;
  name: string;
  small: string;
  before: string;
  after: string;
  beforeSum?: string;
  afterSum?: string;
  changed: boolean;
}

function PairRow({ of }: { of: Pair }) {
  const before = <Fig of={{ text: of.before, sum: of.beforeSum ?? '' }} label={`${of.name} before`} />;
  const after = <Fig of={{ text: of.after, sum: of.afterSum ?? '' }} label={`${of.name} after`} />;
  return (
    <div class={of.changed ? 'row compare-row changed' : 'row compare-row'} data-changed={of.changed}>
      <span class="name">
        {of.name}
        {of.small && <small>{of.small}</small>}
      </span>
      <span class="num">{of.changed ? <s>{before}</s> : before}</span>
      <span class="num">{of.changed ? <b>{after}</b> : after}</span>
    </div>
  );
}

function Heads({ what }: { what: string }) {
  return (
    <div class="row compare-row compare-head">
      <small>{what}</small>
      <small>before</small>
      <small>after</small>
    </div>
  );
}

export function LinesBeside({ of }: { of: readonly LineBeside[] }) {
  const pairs = of.map((l) => ({
    key: l.line,
    name: l.after,
    small: l.before === l.after ? '' : `in place of ${l.before}`,
    before: l.beforePercent,
    after: l.afterPercent,
    changed: l.changed,
  }));
  const stay = pairs.filter((p) => !p.changed);
  return (
    <div data-part="lines-beside">
      <Heads what="per cent" />
      {pairs.filter((p) => p.changed).map((p) => (
        <PairRow key={p.key} of={p} />
      ))}
      {stay.length > 0 && (
        <details>
          <summary>{count(stay.length, 'line stays', 'lines stay')} as before</summary>
          {stay.map((p) => (
            <PairRow key={p.key} of={p} />
          ))}
        </details>
      )}
    </div>
  );
}

export function FiguresBeside({ of }: { of: readonly FigureBeside[] }) {
  return (
    <div data-part="figures-beside">
      <Heads what="of the whole" />
      {of.map((f) => (
        <PairRow key={f.what} of={{ ...f, key: f.what, name: f.what, small: '', changed: f.before !== f.after }} />
      ))}
    </div>
  );
}

/** What the change brings is read in full; what it takes away is struck through in a line each. */
export function ComeAndGone({ come, gone }: { come: readonly Finding[]; gone: readonly Finding[] }) {
  return (
    <div data-part="come-and-gone">
      <p class="remark">
        {come.length > 0 ? `${count(come.length, 'finding is', 'findings are')} new:` : 'No finding is new.'}
      </p>
      {come.map((f) => (
        <Note key={f.rule + f.line + f.says} of={f} />
      ))}
      {gone.length > 0 && <p class="remark">{count(gone.length, 'finding goes', 'findings go')}:</p>}
      {gone.map((f) => (
        <p class="gone-note" key={f.rule + f.line + f.says}>
          <s>{f.says}</s>
        </p>
      ))}
    </div>
  );
}
