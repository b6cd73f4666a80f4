// A pH is a number and how it was taken: strip or meter, neat or in water. Without that it compares with nothing.

import { Choice } from '../parts/choice';
import { Fig } from '../parts/figure';
import { StepLayout } from './layout';
import { Pad } from './pad';
import type { StepProps } from './step';

const dilutions = [
  { value: '', text: 'neat' },
  { value: '10', text: '10 % in water' },
];

export function PhStep({ batch, step, half, change, act, after }: StepProps) {
  const method = half.method ?? 'strip';
  const dilution = half.dilution ?? '';
  const read = async () => {
    if (await act.run('batch.ph', { batch, value: half.text, method, dilution })) after();
  };
  return (
    <StepLayout
      step={step}
      act={act}
      foot={
        <button type="button" class="btn" disabled={act.busy || !half.text} onClick={() => void read()}>
          {half.text ? `pH ${half.text} by ${method}` : 'Read the pH'}
        </button>
      }
    >
      <div class="weighing">
        <div class="figures">
          {step.target.text && (
            <p class={half.text ? 'aim' : 'aim alone-aim'}>
              wanted <Fig of={step.target} label="Wanted" big />
            </p>
          )}
          {half.text && (
            <p class="big num" aria-live="polite" data-part="pad-text">
              <span class="unit">pH </span>
              {half.text}
            </p>
          )}
          {step.actual && <p class="to-go num">{step.actual}</p>}
        </div>
        <div class="ways">
          <Choice label="By" quiet options={['strip', 'meter']} value={method} set={(m) => change({ method: m })} />
          <Choice label="Sample" quiet options={dilutions} value={dilution} set={(d) => change({ dilution: d })} />
        </div>
      </div>
      <Pad text={half.text} set={(text) => change({ text })} enter={() => void read()} />
    </StepLayout>
  );
}
