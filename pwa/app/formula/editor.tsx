// The formula as it is written: the jar at the left, the ledger beside it, notes in the margin, and what can be done at the foot.

import { useState } from 'preact/hooks';
import { command } from '../../shell/client';
import type { Draft, Formula, Refusal } from '../../shell/contract';
import { Screen } from '../frame/screen';
import { Fig } from '../parts/figure';
import { NotChecked } from '../parts/findings';
import { Jar } from '../parts/jar';
import { Kept } from '../parts/kept';
import { Note } from '../parts/note';
import { offerUndo } from '../parts/undo';
import { Trouble } from '../parts/trouble';
import { Caution } from '../record/caution';
import { AsPrinted } from '../law/printed';
import { go } from '../route';
import { count } from '../words';
import { AimAt } from './aim';
import { Tested } from './challenge';
import { addPhase, nextLetter, type Edit } from './change';
import { For, Title } from './head';
import { Holds } from './holds';
import { History } from './history';
import { MarginNotes } from './marginnotes';
import { Phase } from './phase';
import { placeNotes } from './placing';
import { Fits, PlanLine } from './plan';
import { PHRuler } from './ruler';
import { useSheet } from './sheet';
import { Variant } from './variant';

interface EditorProps {
  draft: Draft;
  /** what the book has; undefined for one that was never saved */
  saved: Formula | undefined;
  changed: boolean;
  edit: Edit;
  /** forget what was typed since the last save */
  drop: () => void;
}

export function Editor({ draft, saved, changed, edit, drop }: EditorProps) {
  const [allOpen, setAllOpen] = useState(false);
  const [error, setError] = useState<Refusal | undefined>(undefined);
  const [saving, setSaving] = useState(false);
  const answer = useSheet(draft);
  const sheet = answer?.ok ? answer.value : undefined;
  // An empty sheet is not a fault: notes begin with the first line.
  const findings = draft.lines.length > 0 ? (sheet?.findings ?? []) : [];
  const head = findings.filter((f) => f.rule === 'under-three');
  const margin = placeNotes(
    findings.filter((f) => !head.includes(f)),
    allOpen,
  );
  const openNotes = () => setAllOpen(true);
  const behind = saved !== undefined && changed && draft.parent !== saved.draft.parent;

  const save = async () => {
    setSaving(true);
    const result = await command('formula.save', draft);
    setSaving(false);
    if (!result.ok) {
      setError(result.error);
      return;
    }
    setError(undefined);
    drop();
    go(`/formulas/${result.value.key}`, true);
  };

  const standing = changed ? 'not saved yet' : saved ? `revision ${saved.row.number}` : '';
  const made = saved && !changed;
  return (
    <Screen
      name="formula"
      look="formula"
      named={draft.name || 'A new formula'}
      back={{ to: '/formulas', text: 'Formulas' }}
      title={<Title draft={draft} edit={edit} fresh={!saved} />}
      sub={<For draft={draft} edit={edit} before={[standing, saved?.from].filter(Boolean).join(' · ')} />}
      foot={
        <>
          <PlanLine draft={draft} sheet={sheet} set={(change) => edit((now) => ({ ...now, plan: { ...now.plan, ...change } }))} />
          <Fits sheet={sheet} />
          <Trouble error={error ?? (answer && !answer.ok ? answer.error : undefined)} />
          {sheet?.because && <p class="because">{sheet.because}</p>}
          <div class="two save-make">
            <button type="button" class={made ? 'btn second' : 'btn'} disabled={!sheet?.canSave || !changed || saving} onClick={() => void save()}>
              Save
            </button>
            <button type="button" class={made ? 'btn' : 'btn second'} disabled={!made || !sheet?.canMake} onClick={() => go(`/make/new?formula=${draft.key}`)}>
              Make a batch
            </button>
          </div>
        </>
      }
    >
      {saved?.row.forked && (
        <div role="note" class="note note-care">
          <i class="word">take care</i> Two revisions were made apart from one parent. Both are kept: see Revisions, and save the one that goes on.
        </div>
      )}
      {behind && (
        <div role="note" class="note note-care">
          <i class="word">take care</i> Another revision was saved since this was begun. Saving keeps both, side by side.
        </div>
      )}
      {head.map((f) => (
        <Note key={f.says} of={f} />
      ))}
      <div class="ledger">
        <div class="standing-jar">
          <Jar layers={sheet?.layers ?? []} height={380} letters fill={sheet?.fitsLevel || undefined} />
        </div>
        <div class="lines">
          {draft.phases.map((phase) => (
            <Phase key={phase.letter} draft={draft} phase={phase} sheet={sheet} margin={margin} fixed={false} edit={edit} />
          ))}
          {nextLetter(draft) && (
            <button type="button" class="quiet add-phase" onClick={() => edit(addPhase)}>
              Add phase {nextLetter(draft)}
            </button>
          )}
          {sheet && (
            <div class="row total" data-part="total">
              <span>together</span>
              <Fig of={sheet.total} label="Together" />
              <span />
            </div>
          )}
          <MarginNotes of={margin.whole} />
          {margin.folded > 0 && (
            <button type="button" class="quiet" data-part="more-notes" onClick={openNotes}>
              {count(margin.folded, 'more note', 'more notes')} in the margin
            </button>
          )}
          {sheet && draft.lines.length > 0 && <NotChecked of={findings} count={sheet.uncheckedCount} />}
          {changed && saved && (
            <button
              type="button"
              class="quiet"
              onClick={() => {
                drop();
                offerUndo(`Back to revision ${saved.row.number}.`, () => edit(() => draft));
              }}
            >
              Put back revision {saved.row.number}
            </button>
          )}
          {saved && (
            <p class="faint">
              <Kept where={saved.row.where} />
            </p>
          )}
          {draft.lines.length > 0 && <PHRuler draft={draft} />}
          {draft.lines.length > 0 && <Holds draft={draft} />}
          {draft.lines.length > 0 && <AsPrinted args={{ draft }} />}
          {draft.lines.length > 0 && <AimAt draft={draft} edit={edit} />}
          {saved && <Tested formula={draft.key} batch="" />}
          {saved && <Variant of={saved} />}
          {saved && <History of={saved} shown={draft.parent} />}
          <Caution />
        </div>
      </div>
    </Screen>
  );
}
