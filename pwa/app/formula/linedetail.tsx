// What a line can be besides its percent: the q.s. line, another phase, another ingredient, gone.

import { useState } from 'preact/hooks';
import type { Draft, DraftLine } from '../../shell/contract';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Go } from '../parts/link';
import { offerUndo } from '../parts/undo';
import { moveLine, putBackLine, removeLine, setLine, type Chosen, type Edit } from './change';
import { Picker } from './picker';
import { SwapBeside } from './swap';

interface DetailProps {
  draft: Draft;
  line: DraftLine;
  name: string;
  edit: Edit;
  close: () => void;
}

export function LineDetail({ draft, line, name, edit, close }: DetailProps) {
  const [swapping, setSwapping] = useState(false);
  const [other, setOther] = useState<Chosen & { name: string }>();
  const put = (chosen: Chosen) => {
    edit((now) => setLine(now, line.id, { ingredient: chosen.ingredient, base: chosen.base }));
    setOther(undefined);
  };
  return (
    <div class="detail">
      <label class="tick">
        <input type="checkbox" checked={line.qs} onChange={(e) => {
            const qs = e.currentTarget.checked;
            edit((now) => setLine(now, line.id, { qs }));
          }} />
        q.s.: takes what is left to 100 %
      </label>
      {draft.phases.length > 1 && (
        <Choice label="Phase" options={draft.phases.map((p) => p.letter)} value={line.phase} set={(phase) => edit((now) => setLine(now, line.id, { phase }))} />
      )}
      <Field label="Remark" name="remark" value={line.note} set={(note) => edit((now) => setLine(now, line.id, { note }))} />
      {other ? (
        <SwapBeside draft={draft} line={line} by={other.ingredient} name={other.name} edit={edit} plainly={() => put(other)} leave={() => setOther(undefined)} />
      ) : swapping ? (
        <Picker
          label={`In place of ${name}`}
          bases
          self={draft.key}
          autofocus
          leave={() => setSwapping(false)}
          pick={(chosen, called) => {
            setSwapping(false);
            // Only one ingredient for another, with its per cent written, can be weighed up side by side.
            if (chosen.ingredient && line.ingredient && line.percent.trim() && !line.qs) setOther({ ...chosen, name: called });
            else put(chosen);
          }}
        />
      ) : (
        <div class="acts">
          <button type="button" class="quiet" onClick={() => edit((now) => moveLine(now, line.id, -1))}>
            Up
          </button>
          <button type="button" class="quiet" onClick={() => edit((now) => moveLine(now, line.id, 1))}>
            Down
          </button>
          <button type="button" class="quiet" onClick={() => setSwapping(true)}>
            Swap
          </button>
          {line.ingredient && (
            <Go to={`/ingredients/${encodeURIComponent(line.ingredient)}?back=${encodeURIComponent(location.pathname)}`} class="quiet">
              Figures
            </Go>
          )}
          <button
            type="button"
            class="quiet stop"
            onClick={() => {
              close();
              edit((now) => removeLine(now, line.id));
              offerUndo(`${name} taken out.`, () => edit((now) => putBackLine(now, line, draft.lines.indexOf(line))));
            }}
          >
            Take out
          </button>
        </div>
      )}
    </div>
  );
}
