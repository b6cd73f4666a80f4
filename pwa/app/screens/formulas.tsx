import type { Draft, FormulaRow } from '../../shell/contract';
import { useKept, useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Jar } from '../parts/jar';
import { Kept } from '../parts/kept';
import { Go } from '../parts/link';
import { ImportHere } from '../share/import';
import { count } from '../words';

export function Formulas() {
  const answer = useView('formulas', {});
  const begun = useKept<Draft>('formula:new');
  if (!answer) return <NotThere name="formulas" title="Formulas" />;
  if (!answer.ok) return <NotThere name="formulas" title="Formulas" error={answer.error} />;
  return (
    <Screen
      name="formulas"
      title="Formulas"
      foot={
        <div class="two">
          <Go to="/formulas/notebook" class="btn second">
            Notebook page
          </Go>
          <Go to="/formulas/new" class="btn">
            {begun.value ? 'Go on writing' : 'Write a formula'}
          </Go>
        </div>
      }
    >
      {begun.value && (
        <Go to="/formulas/new" class="tile begun">
          <Jar layers={[]} height={96} label="Not saved yet" />
          <span>
            <b>{begun.value.name || 'A formula without a name'}</b>
            <small>not saved yet, on this phone</small>
          </span>
        </Go>
      )}
      <div class="tiles">
        {answer.value.map((f) => (
          <Tile key={f.key} of={f} />
        ))}
      </div>
      {answer.value.length === 0 && !begun.value && <p class="lead">No formula yet. Write the first one in per cent, phase by phase; the jar fills as you write.</p>}
      <ImportHere />
    </Screen>
  );
}

function Tile({ of }: { of: FormulaRow }) {
  return (
    <Go to={`/formulas/${of.key}`} class="tile">
      <Jar layers={of.layers} height={96} />
      <span>
        <b>{of.name}</b>
        <small>
          {of.kind && `${of.kind} · `}revision {of.number}
        </small>
        <small>
          {of.batches > 0 ? count(of.batches, 'batch', 'batches') : 'not made yet'} · <Kept where={of.where} />
        </small>
        {of.forked && (
          <small class="note-care">
            <i class="word">take care</i> two revisions side by side
          </small>
        )}
      </span>
    </Go>
  );
}
