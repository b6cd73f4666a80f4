// When a pot will be cool enough, as far as the readings tell; and a mark where something changes how it cools.

import { useState } from 'preact/hooks';
import { useAct } from '../act';
import { useView } from '../book';
import { Field } from '../parts/field';
import { Note } from '../parts/note';
import { Trouble } from '../parts/trouble';

interface CoolingProps {
  batch: string;
  phase: string;
  room: string;
  unit: string;
  setRoom: (room: string) => void;
}

export function Cooling({ batch, phase, room, unit, setRoom }: CoolingProps) {
  const act = useAct();
  const [marked, setMarked] = useState('');
  const answer = useView('cooling', { batch, phase, room, unit });
  if (!answer?.ok) return null;
  const { says, changes, findings } = answer.value;
  const mark = async (changed: string) => {
    if (await act.run('batch.cooling', { batch, phase, changed })) setMarked(changed);
  };
  return (
    <details class="how cooling" data-part="cooling">
      <summary>
        <span>{says}</span>
      </summary>
      {findings.map((f) => (
        <Note key={f.rule} of={f} />
      ))}
      <Field label="The room, if measured" name="room" mode="decimal" unit={`°${unit}`} value={room} set={setRoom} />
      <p class="hint">Something changed how it cools:</p>
      <div class="changes">
        {changes.map((c) => (
          <button key={c} type="button" class="chip-key" disabled={act.busy} data-changed={c} onClick={() => void mark(c)}>
            {c}
          </button>
        ))}
      </div>
      {marked && <p class="hint">Marked: {marked}. It counts from here on.</p>}
      <Trouble error={act.error} />
    </details>
  );
}
