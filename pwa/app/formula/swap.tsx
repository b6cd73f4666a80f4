// One ingredient for another, weighed up before it is taken: what is held equal, and all that changes with it.

import { useState } from 'preact/hooks';
import type { Draft, DraftLine } from '../../shell/contract';
import { Choice } from '../parts/choice';
import { Fig } from '../parts/figure';
import { Note } from '../parts/note';
import { offerUndo } from '../parts/undo';
import { Trouble } from '../parts/trouble';
import { ComeAndGone, FiguresBeside, LinesBeside } from './beside';
import { takeLines, type Edit } from './change';
import { useAsked } from './sheet';

interface SwapProps {
  draft: Draft;
  line: DraftLine;
  by: string;
  name: string;
  edit: Edit;
  /** puts it in at the same per cent, whatever that means */
  plainly: () => void;
  leave: () => void;
}

export function SwapBeside({ draft, line, by, name, edit, plainly, leave }: SwapProps) {
  const [hold, setHold] = useState('');
  const answer = useAsked('swap', { draft, line: line.id, by, hold });
  const swap = answer?.ok ? answer.value : undefined;
  const take = () => {
    if (!swap) return;
    const before = draft.lines;
    edit((now) => takeLines(now, swap.take));
    offerUndo(`${swap.to} is in place of ${swap.from}.`, () => edit((now) => takeLines(now, before)));
    leave();
  };
  return (
    <section class="beside" data-part="swap" aria-label={`${name} in place of another`}>
      <h3>{swap ? `${swap.to} in place of ${swap.from}` : name}</h3>
      {swap && (
        <>
          <Choice label="Held equal" options={swap.holds.map((h) => ({ value: h.key, text: h.name }))} value={swap.hold} set={setHold} />
          <div class="kv" data-part="held">
            <span>{swap.hold === 'mass' ? 'of its mass' : swap.holds.find((h) => h.key === swap.hold)?.name}, before and after</span>
            <Fig of={swap.held} label="Held" />
          </div>
          <LinesBeside of={swap.lines} />
          {swap.water && <p class="remark">{swap.water}.</p>}
          <FiguresBeside of={swap.figures} />
          <ComeAndGone come={swap.come} gone={swap.gone} />
          {swap.notes.map((f) => (
            <Note key={f.says} of={f} />
          ))}
        </>
      )}
      <Trouble error={answer && !answer.ok ? answer.error : undefined} />
      <div class="two">
        <button type="button" class="btn" disabled={!swap} onClick={take}>
          Take it
        </button>
        <button type="button" class="btn second" onClick={leave}>
          Leave it
        </button>
      </div>
      {answer && !answer.ok && (
        <button type="button" class="quiet" onClick={plainly}>
          Put it in at the same per cent
        </button>
      )}
    </section>
  );
}
