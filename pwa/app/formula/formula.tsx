// A formula's page: what this phone has half typed, else what the book has, else an empty sheet.

import type { Draft } from '../../shell/contract';
import { useKept, useView } from '../book';
import { NotThere } from '../frame/screen';
import { blank, sameDraft, type Edit } from './change';
import { Editor } from './editor';
import { Revision } from './revision';

const back = { to: '/formulas', text: 'Formulas' };

export function FormulaScreen({ id, revision }: { id: string; revision: string }) {
  if (id === 'new') return <Fresh />;
  return revision ? <Old id={id} revision={revision} /> : <Known id={id} />;
}

function Fresh() {
  const kept = useKept<Draft>('formula:new');
  if (!kept.known) return <NotThere name="formula" title="" back={back} />;
  return <Editor draft={kept.value ?? blank()} saved={undefined} changed={kept.value !== undefined} edit={(change) => kept.edit((now) => change(now ?? blank()))} drop={kept.clear} />;
}

function Known({ id }: { id: string }) {
  const kept = useKept<Draft>(`formula:${id}`);
  const answer = useView('formula', { key: id, revision: '' });
  if (!answer || !kept.known) return <NotThere name="formula" title="" back={back} />;
  if (!answer.ok) return <NotThere name="formula" title="Formula" back={back} error={answer.error} />;
  const saved = answer.value;
  const changed = kept.value !== undefined && !sameDraft(kept.value, saved.draft);
  const edit: Edit = (change) => kept.edit((now) => change(now && !sameDraft(now, saved.draft) ? now : saved.draft));
  return <Editor draft={changed && kept.value ? kept.value : saved.draft} saved={saved} changed={changed} edit={edit} drop={kept.clear} />;
}

function Old({ id, revision }: { id: string; revision: string }) {
  const old = useView('formula', { key: id, revision });
  const newest = useView('formula', { key: id, revision: '' });
  if (!old || !newest) return <NotThere name="revision" title="" back={back} />;
  if (!old.ok) return <NotThere name="revision" title="Formula" back={back} error={old.error} />;
  if (!newest.ok) return <NotThere name="revision" title="Formula" back={back} error={newest.error} />;
  return <Revision old={old.value} newest={newest.value} />;
}
