// An earlier revision as it was: read, not written. Writing on from it makes a new revision after the newest.

import { keepDraft } from '../../shell/client';
import type { Formula } from '../../shell/contract';
import { Screen } from '../frame/screen';
import { NotChecked } from '../parts/findings';
import { Jar } from '../parts/jar';
import { go } from '../route';
import { Phase } from './phase';
import { placeNotes } from './placing';
import { useSheet } from './sheet';

export function Revision({ old, newest }: { old: Formula; newest: Formula }) {
  const answer = useSheet(old.draft);
  const sheet = answer?.ok ? answer.value : undefined;
  const number = old.revisions.find((r) => r.revision === old.draft.parent)?.number ?? old.row.number;
  const writeOn = () => {
    void keepDraft(`formula:${newest.row.key}`, { ...old.draft, parent: newest.draft.parent }).then(() => go(`/formulas/${newest.row.key}`));
  };
  return (
    <Screen
      name="revision"
      look="formula"
      back={{ to: `/formulas/${newest.row.key}`, text: newest.row.name }}
      title={old.draft.name}
      sub={`revision ${number}, as it was · ${old.draft.wash} · ${old.draft.site} · ${old.draft.age}`}
      foot={
        <button type="button" class="btn second" onClick={writeOn}>
          Write on from this one
        </button>
      }
    >
      <div class="ledger">
        <div class="standing-jar">
          <Jar layers={sheet?.layers ?? []} height={380} letters />
        </div>
        <div class="lines">
          {old.draft.phases.map((phase) => (
            <Phase
              key={phase.letter}
              draft={old.draft}
              phase={phase}
              sheet={sheet}
              margin={placeNotes(sheet?.findings ?? [], false)}
              fixed
              edit={() => undefined}
            />
          ))}
          {sheet && <NotChecked of={sheet.findings} count={sheet.uncheckedCount} />}
        </div>
      </div>
    </Screen>
  );
}
