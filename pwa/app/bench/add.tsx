// What goes in beside the plan: an acid for the pH, more of a line, a rescue; or what is spooned out again.

import { useState } from 'preact/hooks';
import type { Act } from '../act';
import { useView } from '../book';
import { Picker } from '../formula/picker';
import { Choice } from '../parts/choice';
import { WearLine } from '../parts/note';
import { Trouble } from '../parts/trouble';
import { LotChooser } from './lots';
import { Pad } from './pad';
import { SideFoot } from './sidefoot';
import type { Beside } from './step';

export interface PanelProps {
  batch: string;
  act: Act;
  of: Beside;
  change: (change: Partial<Beside>) => void;
  close: () => void;
}

const ways = [
  { value: 'in', text: 'goes in' },
  { value: 'out', text: 'spooned out' },
];
const reasons = [
  { value: 'for the pH', text: 'for pH' },
  { value: 'to top up', text: 'top up' },
  { value: 'a rescue', text: 'rescue' },
  { value: 'by mistake', text: 'mistake' },
];

export function AddPanel(p: PanelProps) {
  if (!p.of.ingredient && !p.of.line) return <Choosing {...p} />;
  return <Weighing {...p} />;
}

function Choosing({ change, close }: PanelProps) {
  return (
    <>
      <div class="body step" data-step="add">
        <p>It counts in what went in, with its lot, and the ingredient list follows it.</p>
        <Picker label="What it is" bases={false} autofocus pick={(chosen) => change({ ingredient: chosen.ingredient, lot: undefined })} />
      </div>
      <div class="act">
        <button type="button" class="btn second" onClick={close}>
          Nothing more
        </button>
      </div>
    </>
  );
}

function Weighing({ batch, act, of, change, close }: PanelProps) {
  const [choosing, setChoosing] = useState(false);
  const { line, ingredient, phase, out, why } = of;
  const answer = useView('addition', { batch, line, ingredient, phase });
  if (!answer) return <div class="body" />;
  if (!answer.ok) {
    return (
      <>
        <div class="body">
          <Trouble error={answer.error} />
        </div>
        <div class="act">
          <button type="button" class="btn second" onClick={close}>
            Back to the steps
          </button>
        </div>
      </>
    );
  }
  const { name, says, lots, wear, last } = answer.value;
  const lot = of.lot ?? lots.find((l) => !l.held)?.key ?? '';
  const add = async () => {
    if (await act.run('batch.add', { batch, line, ingredient, phase, lot, grams: of.text, out, why })) close();
  };
  return (
    <>
      <div class="body step" data-step="add" data-ingredient={ingredient || undefined}>
        {wear.map((f) => (
          <WearLine key={f.rule + f.line} of={f} />
        ))}
        <p class="last-time">{[says, last].filter(Boolean).join(' ')}</p>
        <div class="weighing adding">
          <div class="figures">
            <p class="aim">
              <b>{name}</b> {answer.value.in && <span class="num faint">{answer.value.in}</span>}
            </p>
            <p class={of.text ? 'big num' : 'big num waiting'} aria-live="polite" data-part="pad-text">
              {of.text || '…'}
              <span class="unit"> g</span>
            </p>
          </div>
          {answer.value.in && <Choice label="It" quiet options={ways} value={out ? 'out' : 'in'} set={(way) => change({ out: way === 'out' })} />}
        </div>
        <Choice label="Why" quiet options={reasons} value={why} set={(w) => change({ why: w === why ? '' : w })} />
        {!out && (
          <LotChooser
            lots={lots}
            lot={lot}
            open={choosing}
            toggle={() => setChoosing(!choosing)}
            receive={{ ingredient, batch, line, back: `/make/${batch}` }}
            choose={(key) => {
              change({ lot: key });
              setChoosing(false);
            }}
          />
        )}
        <Trouble error={act.error} />
        {!choosing && <Pad text={of.text} set={(text) => change({ text })} enter={() => void add()} />}
      </div>
      <SideFoot close={close} text={out ? 'Taken out' : 'Went in'} part="added" disabled={act.busy || !of.text} write={add} />
    </>
  );
}
