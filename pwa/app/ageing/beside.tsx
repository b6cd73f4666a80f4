// Another batch of the same family beside this one: only what is of like age, condition and method.

import { useState } from 'preact/hooks';
import type { BatchRow } from '../../shell/contract';
import { useView } from '../book';
import { Fig } from '../parts/figure';
import { Findings } from '../parts/findings';

export function Others({ id, of }: { id: string; of: readonly BatchRow[] }) {
  const [other, setOther] = useState('');
  if (of.length === 0) return null;
  return (
    <section data-part="beside">
      <h2 class="ph">
        <span>beside another batch</span>
      </h2>
      {of.map((b) => (
        <button key={b.key} type="button" class="kv" aria-pressed={b.key === other} onClick={() => setOther(b.key === other ? '' : b.key)}>
          <span>
            {b.name} <small class="num">{b.code} · {b.started}</small>
          </span>
          <span class="go">{b.key === other ? 'close' : 'compare'}</span>
        </button>
      ))}
      {other && <Both id={id} other={other} />}
    </section>
  );
}

function Both({ id, other }: { id: string; other: string }) {
  const answer = useView('agedbeside', { key: id, other });
  if (!answer?.ok) return null;
  const of = answer.value;
  return (
    <div class="aged-beside" data-part="agedbeside">
      <p>{of.says}</p>
      {of.rows.length > 0 && (
        <div class="row aged-row compare-head">
          <span />
          <small>{of.one}</small>
          <small>{of.other}</small>
          <small>differs</small>
        </div>
      )}
      {of.rows.map((r) => (
        <div key={r.what + r.when} class="row aged-row">
          <span class="name">
            {r.what} <small>{r.when}</small>
          </span>
          <span class="num">{r.one}</span>
          <span class="num">{r.other}</span>
          <Fig of={r.differ} label={`Difference of ${r.what}`} />
        </div>
      ))}
      {of.unlike && <p class="hint">{of.unlike}</p>}
      <Findings of={of.findings} />
    </div>
  );
}
