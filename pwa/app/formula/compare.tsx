// What changed: two revisions of a formula, or a variant and where it came from, as one ledger. The old figure is struck through, as on paper.

import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Choice } from '../parts/choice';
import { Fig } from '../parts/figure';
import { go } from '../route';

const changeWord: Record<string, string> = { more: 'more', less: 'less', added: 'added', gone: 'gone', moved: 'moved' };

export function CompareScreen({ id, from, to }: { id: string; from: string; to: string }) {
  const back = { to: `/formulas/${id}`, text: 'Formula' };
  const answer = useView('compare', { key: id, from, to });
  const formula = useView('formula', { key: id, revision: '' });
  const origin = useView('compare', { key: id, from: 'origin', to: '' });
  if (!answer || !formula) return <NotThere name="compare" title="" back={back} />;
  if (!answer.ok) return <NotThere name="compare" title="What changed" back={back} error={answer.error} />;
  const of = answer.value;
  const revisions = formula.ok ? formula.value.revisions : [];
  const options = revisions.map((r) => ({ value: r.revision, text: `revision ${r.number}` }));
  const before = origin?.ok ? [{ value: 'origin', text: origin.value.from }, ...options] : options;
  const at = (a: string, b: string) => go(`/formulas/${id}/compare?${new URLSearchParams({ from: a, to: b })}`, true);
  return (
    <Screen name="compare" title="What changed" sub={formula.ok ? formula.value.row.name : ''} back={back}>
      <div class="paper wide-paper">
        {before.length > 1 && (
          <details data-part="which">
            <summary>
              {of.from} and {of.to}
            </summary>
            <Choice label="From" options={before} value={from} set={(r) => at(r, to)} />
            <Choice label="To" options={options} value={to} set={(r) => at(from, r)} />
          </details>
        )}
        <p class="lead" data-part="compare-says">
          {of.says}
        </p>
        <div class="row compare-row compare-head">
          <span />
          <small>{of.from}</small>
          <small>{of.to}</small>
        </div>
        {of.lines.map((line) => {
          const changed = line.change !== 'same';
          const before = <Fig of={{ text: line.from, sum: line.fromSum }} label={line.name} />;
          const after = <Fig of={{ text: line.to, sum: line.toSum }} label={line.name} />;
          return (
            <div class={changed ? 'row compare-row changed' : 'row compare-row'} key={line.name + line.phase} data-change={line.change}>
              <span class="name">
                {line.name}
                <small>{[line.phase && `phase ${line.phase}`, changeWord[line.change]].filter(Boolean).join(' · ')}</small>
              </span>
              <span class="num">{changed && line.from && line.from !== line.to ? <s>{before}</s> : before}</span>
              <span class="num">{changed && line.to ? <b>{after}</b> : after}</span>
            </div>
          );
        })}
        {of.also.map((says) => (
          <p class="remark" key={says}>
            {says}
          </p>
        ))}
      </div>
    </Screen>
  );
}
