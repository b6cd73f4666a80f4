// The five questions of a first run. Each has a default and can be skipped, and all of them can be changed in the settings.

import type { Habits } from '../../shell/contract-workshop';
import { useAct } from '../act';
import { besides, elsewhere, useKept, useView } from '../book';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';

const regions = ['EU', 'UK', 'US', 'elsewhere'];
const masses = [
  { value: 'g', text: 'g' },
  { value: 'oz', text: 'g and oz' },
];
const degrees = [
  { value: 'C', text: '°C' },
  { value: 'F', text: '°F' },
];
const moneys = ['EUR', 'GBP', 'USD'];
const usualSteps = ['1', '0.1', '0.01'];

/** The steps of a scale to choose from, hers among them. */
export function scaleSteps(hers: string): { value: string; text: string }[] {
  const all = usualSteps.includes(hers) || hers === '' ? usualSteps : [...usualSteps, hers];
  return all.map((value) => ({ value, text: `${value} g` }));
}

export function useHabits(): Habits {
  const answer = useView('habits', {});
  return answer?.ok ? answer.value : { region: '', mass: 'g', degrees: 'C', money: '', scaleStep: '', scaleHolds: '' };
}

export function HabitsForm({ first }: { first?: boolean }) {
  const answer = useView('habits', {});
  if (!answer?.ok) return null;
  return <Form of={answer.value} first={first === true} />;
}

function Form({ of, first }: { of: Habits; first: boolean }) {
  const act = useAct();
  const kept = useKept<Habits>('habits');
  const typed = kept.value ?? of;
  const set = (change: Partial<Habits>) => kept.edit((now) => ({ ...(now ?? of), ...change }));
  const keep = async (what: Habits) => {
    const { asked: _, ...args } = what;
    if (await act.run('workshop.choose', args)) kept.clear();
  };
  const unchanged = kept.value === undefined;
  return (
    <form
      class="paper"
      data-part="habits"
      onSubmit={(e) => {
        e.preventDefault();
        void keep(typed);
      }}
    >
      <h2 class="ph">
        <span>{first ? 'five questions' : 'how you work'}</span>
        {first && <span class="faint">all can be skipped</span>}
      </h2>
      <Choice label="Where it is sold" options={regions} value={typed.region} set={(region) => set({ region })} />
      <Choice label="Weights in" options={masses} value={typed.mass} set={(mass) => set({ mass })} />
      <Choice label="Temperatures in" options={degrees} value={typed.degrees} set={(d) => set({ degrees: d })} />
      <Choice label="Money" options={moneys.includes(typed.money) || typed.money === '' ? moneys : [...moneys, typed.money]} value={typed.money} set={(money) => set({ money })} />
      <Trouble error={besides(act.error, 'money')} />
      <Choice label="Your scale reads to" options={scaleSteps(of.scaleStep)} value={typed.scaleStep} set={(scaleStep) => set({ scaleStep })} />
      <Field
        label="and carries at most"
        name="scale-holds"
        value={typed.scaleHolds}
        set={(scaleHolds) => set({ scaleHolds })}
        error={besides(act.error, 'scaleHolds')}
        hint="500 g, 5 kg or 11 lb; empty when you do not know"
      />
      <Trouble error={elsewhere(act.error, ['money', 'scaleHolds'])} />
      <div class={first ? 'two' : undefined}>
        {first && (
          <button type="button" class="btn second" disabled={act.busy} onClick={() => void keep(of)}>
            Skip
          </button>
        )}
        <button type="submit" class={first ? 'btn second' : 'btn'} disabled={(unchanged && !first) || act.busy}>
          {unchanged && !first ? 'Kept' : 'Keep'}
        </button>
      </div>
    </form>
  );
}
