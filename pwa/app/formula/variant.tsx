// A variant: a formula of its own that remembers where it came from. Its name is all that is asked.

import type { Formula } from '../../shell/contract';
import { useAct } from '../act';
import { besides, elsewhere, useKept } from '../book';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';
import { go } from '../route';

export function Variant({ of }: { of: Formula }) {
  const act = useAct();
  const kept = useKept<string>(`variant:${of.row.key}`);
  const name = kept.value ?? '';
  const make = async () => {
    const done = await act.run('formula.fork', { formula: of.row.key, revision: of.draft.parent || of.row.revision, name });
    if (!done) return;
    kept.clear();
    go(`/formulas/${done.key}`);
  };
  return (
    <details data-part="variant" open={kept.value ? true : undefined}>
      <summary>Make a variant</summary>
      <Field label="Name of the variant" name="variant" hint={`such as ${of.row.name}, firmer`} value={name} set={kept.set} error={besides(act.error, 'name')} />
      <Trouble error={elsewhere(act.error, ['name'])} />
      <button type="button" class="btn second" disabled={act.busy || !name.trim()} onClick={() => void make()}>
        Make the variant
      </button>
    </details>
  );
}
