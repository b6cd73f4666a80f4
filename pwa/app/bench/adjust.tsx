// Bringing a pH to where it should be: a trial on a weighed sample, then the greater part of it into the pot, a reading, and
// the rest. What is typed of a trial stays on this phone until it is kept, also when the panel is left.

import { useState } from 'preact/hooks';
import type { AdjustArgs } from '../../shell/contract-aid';
import { useKept, useView } from '../book';
import { Picker } from '../formula/picker';
import { Note, WearLine } from '../parts/note';
import { Trouble } from '../parts/trouble';
import type { PanelProps } from './add';
import { LotChooser } from './lots';
import { Pad } from './pad';
import { SideFoot } from './sidefoot';
import { Slots } from './slots';

const setup = [
  { at: 'strength', label: 'of it in the solution', unit: '%' },
  { at: 'sample', label: 'the sample weighs', unit: 'g' },
  { at: 'low', label: 'pH wanted from', unit: '' },
  { at: 'high', label: 'to', unit: '' },
  { at: 'pot', label: 'left in the pot', unit: 'g' },
] as const;

const point = [
  { at: 'added', label: 'in the sample in all', unit: 'g' },
  { at: 'ph', label: 'its pH', unit: '' },
] as const;

interface Typed extends Omit<AdjustArgs, 'batch'> {
  /** the points are being written */
  trying: boolean;
  added: string;
  ph: string;
}

const blank: Typed = { ingredient: '', strength: '', sample: '', pot: '', low: '', high: '', points: [], fresh: false, grams: '', lot: '', trying: false, added: '', ph: '' };

export function AdjustPanel({ batch, act, close, measure }: PanelProps & { measure: () => void }) {
  const kept = useKept<Typed>(`trial:${batch}`);
  const typed = { ...blank, ...kept.value };
  const set = (change: Partial<Typed>) => kept.edit((now) => ({ ...blank, ...now, ...change }));
  const [at, setAt] = useState('');
  const [choosing, setChoosing] = useState(false);
  const { trying: _trying, added, ph, ...asked } = typed;
  const args = { batch, ...asked };
  const answer = useView('adjust', args);
  if (!answer?.ok || !kept.known) {
    return (
      <div class="body">
        <Trouble error={answer && !answer.ok ? answer.error : undefined} />
      </div>
    );
  }
  const now = answer.value;
  const leave = (
    <button type="button" class="btn second" onClick={close}>
      Leave it
    </button>
  );
  const notes = now.findings.map((f) => <Note key={f.rule + f.says} of={f} />);
  const says = (hint = '') => (
    <p class="aid-says" aria-live="polite" data-part="adjust-says">
      {now.says || <span class="faint">{hint}</span>}
    </p>
  );

  if (now.stage === 'what') {
    return (
      <>
        <div class="body step" data-step="adjust" data-stage="what">
          {says(now.wanted && `What is known of this formula keeps from ${now.wanted}.`)}
          {notes.slice(0, 1)}
          <div class="lot-list">
            {now.offers.map((o) => (
              <button key={o.key} type="button" class="kv" data-key={o.key} onClick={() => set({ ingredient: o.key })}>
                <b>{o.name}</b>
              </button>
            ))}
          </div>
          <Picker label="Something else" bases={false} pick={(chosen) => set({ ingredient: chosen.ingredient })} />
          {notes.slice(1)}
        </div>
        <div class="act">{leave}</div>
      </>
    );
  }

  if (now.stage === 'trial') {
    const whole = { ...args, strength: typed.strength || now.strength, pot: typed.pot || now.pot, low: typed.low || now.low, high: typed.high || now.high };
    const keep = async () => {
      if (await act.run('batch.trial', whole)) kept.set(blank);
    };
    const writing = typed.trying && now.begun;
    const slot = point.find((s) => s.at === at)?.at ?? (typed.points.length === 0 ? 'ph' : 'added');
    const field = setup.find((s) => s.at === at)?.at ?? (now.strength ? 'sample' : 'strength');
    const full = ph !== '' && (added !== '' || typed.points.length === 0);
    const next = () => {
      if (!full) return setAt('ph');
      set({ points: [...typed.points, { added: typed.points.length === 0 ? '0' : added, ph }], added: '', ph: '' });
      setAt('added');
    };
    return (
      <>
        <div class="body step" data-step="adjust" data-stage={writing ? 'points' : 'sample'}>
          <div class="also">
            <p class="last-time">{now.name}</p>
            <button type="button" class="quiet" onClick={() => (writing ? set({ trying: false }) : set({ ingredient: '' }))}>
              {writing ? 'The sample' : 'Another'}
            </button>
          </div>
          {writing ? (
            <>
              {typed.points.length > 0 && (
                <ol class="points" aria-label="Points of the trial">
                  {now.points
                    .map((p, i) => (
                      <li key={p}>
                        <button type="button" class="chip-key num" aria-label={`Take ${p} away`} onClick={() => set({ points: typed.points.filter((_, n) => n !== i) })}>
                          {p} <span aria-hidden="true">×</span>
                        </button>
                      </li>
                    ))
                    .reverse()}
                </ol>
              )}
              {says()}
              <Slots slots={typed.points.length === 0 ? point.slice(1) : point} at={slot} value={(s) => typed[s]} choose={setAt} />
            </>
          ) : (
            <Slots slots={setup} at={field} value={(s) => whole[s]} choose={setAt} says={now.begun || !now.says ? now.potSum : now.says} />
          )}
          <Trouble error={act.error} />
          {writing ? <Pad text={typed[slot]} set={(text) => set({ [slot]: text })} enter={next} /> : <Pad text={typed[field]} set={(text) => set({ [field]: text })} enter={() => set({ trying: now.begun })} />}
        </div>
        <div class="act">
          <div class="two">
            {writing ? (
              <button type="button" class="btn second" disabled={!full && !(added && !ph)} data-part="next-point" onClick={next}>
                Next point
              </button>
            ) : (
              leave
            )}
            {writing ? (
              <button type="button" class="btn" disabled={act.busy || !now.ready || full} data-part="keep-trial" onClick={() => void keep()}>
                Keep trial
              </button>
            ) : (
              <button type="button" class="btn" disabled={!now.begun} data-part="begin-trial" onClick={() => set({ trying: true })}>
                Begin
              </button>
            )}
          </div>
        </div>
      </>
    );
  }

  const anew = (
    <button type="button" class="quiet" data-part="new-trial" onClick={() => set({ ...blank, fresh: true })}>
      New trial
    </button>
  );
  if (now.stage !== 'add') {
    return (
      <>
        <div class="body step" data-step="adjust" data-stage={now.stage}>
          {says()}
          {notes}
          <p class="faint num">{now.points.join(' · ')}</p>
          {anew}
        </div>
        <div class="act">
          {now.stage === 'measure' ? (
            <div class="two">
              {leave}
              <button type="button" class="btn" data-part="measure-again" onClick={measure}>
                Measure the pH
              </button>
            </div>
          ) : (
            <button type="button" class="btn" onClick={close}>
              Back to the steps
            </button>
          )}
        </div>
      </>
    );
  }
  const lot = typed.lot || now.lots.find((l) => !l.held)?.key || '';
  const add = async () => {
    if (await act.run('batch.adjust', { ...args, lot })) kept.set(blank);
  };
  return (
    <>
      <div class="body step" data-step="adjust" data-stage="add">
        {says()}
        {now.findings.filter((f) => f.level === 'wear').map((f) => (
          <WearLine key={f.rule} of={f} />
        ))}
        {now.findings.filter((f) => f.level === 'care' || f.level === 'stop').map((f) => (
          <Note key={f.rule + f.says} of={f} />
        ))}
        <p class="to-go">
          add <b class="num">{now.add} g</b> of {now.name}
        </p>
        <div class="weighing adding">
          <div class="figures">
            <p class={typed.grams ? 'big num' : 'big num waiting'} aria-live="polite" data-part="pad-text">
              {typed.grams || '…'}
              <span class="unit"> g</span>
            </p>
          </div>
          {anew}
        </div>
        <LotChooser
          lots={now.lots}
          lot={lot}
          open={choosing}
          toggle={() => setChoosing(!choosing)}
          receive={{ batch, back: `/make/${batch}` }}
          choose={(key) => {
            set({ lot: key });
            setChoosing(false);
          }}
        />
        <Trouble error={act.error} />
        {!choosing && <Pad text={typed.grams} set={(grams) => set({ grams })} enter={() => void add()} />}
        {now.findings.filter((f) => f.level === 'unchecked').map((f) => (
          <Note key={f.rule + f.says} of={f} />
        ))}
      </div>
      <SideFoot close={close} text="Went in" part="adjusted" disabled={act.busy || !typed.grams} write={add} />
    </>
  );
}
