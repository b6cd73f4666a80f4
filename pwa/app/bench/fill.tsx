// Filling: how many jars it gave. That number mints the jars and their codes.

import { Choice } from '../parts/choice';
import { StepLayout } from './layout';
import { Pad } from './pad';
import { beside, type StepProps } from './step';

const places = [
  { value: 'home', text: 'at home' },
  { value: 'stall', text: 'at the stall' },
];

export function FillStep({ batch, bench, step, half, change, act, open, after }: StepProps) {
  const planned = bench.plannedJars > 0 ? String(bench.plannedJars) : '';
  const jars = half.text || planned;
  const fill = async () => {
    if (await act.run('batch.fill', { batch, jars, place: half.place ?? 'home', note: half.says ?? '' })) after();
  };
  return (
    <StepLayout
      step={step}
      act={act}
      also={[
        { text: 'Density by the cup', open: () => open(beside('cup', step.phase)) },
        { text: 'Weigh jars', open: () => open(beside('nets', step.phase)) },
      ]}
      foot={
        <button type="button" class="btn" disabled={act.busy || !jars} onClick={() => void fill()}>
          {jars ? `${jars} jars filled` : 'How many jars'}
        </button>
      }
    >
      <div class="weighing">
        <div class="figures">
          {planned && <p class="aim">planned {planned}</p>}
          <p class={half.text ? 'big num' : 'big num waiting'} aria-live="polite" data-part="pad-text">
            {jars || '…'}
            <span class="unit"> jars</span>
          </p>
        </div>
        <Choice label="They stand" quiet options={places} value={half.place ?? 'home'} set={(place) => change({ place })} />
      </div>
      <Pad text={half.text} set={(text) => change({ text })} enter={() => void fill()} point={false} />
    </StepLayout>
  );
}
