// A pH is a number and how it was taken: strip or meter, neat or in water. Without that it compares with nothing.

import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Fig } from '../parts/figure';
import { StepLayout } from './layout';
import { Pad } from './pad';
import { beside, type StepProps } from './step';

const dilutions = [
  { value: '', text: 'neat' },
  { value: '10', text: '10 % in water' },
];

/** A step that was not said stays unsaid: a trend is read only as finely as the strip or meter shows. */
const steps: Record<string, readonly { value: string; text: string }[]> = {
  strip: [
    { value: '0.5', text: 'by 0.5' },
    { value: '0.2', text: 'by 0.2' },
    { value: '1', text: 'by 1' },
  ],
  meter: [
    { value: '0.1', text: 'by 0.1' },
    { value: '0.01', text: 'by 0.01' },
  ],
};
export function PhStep({ batch, step, half, change, act, open, after }: StepProps) {
  const method = half.method ?? 'strip';
  const dilution = half.dilution ?? '';
  const read = async () => {
    if (await act.run('batch.ph', { batch, value: half.text, method, dilution, step: half.fine ?? '', sample: half.sample ?? '', unit: 'C' })) after();
  };
  return (
    <StepLayout
      step={step}
      act={act}
      also={[{ text: 'Adjust the pH', open: () => open(beside('adjust', step.phase)) }]}
      foot={
        <button type="button" class="btn" disabled={act.busy || !half.text} onClick={() => void read()}>
          {half.text ? `pH ${half.text} by ${method}` : 'Read the pH'}
        </button>
      }
    >
      <div class="weighing">
        <div class="figures">
          {step.target.text && (
            <p class={half.text ? 'aim' : 'aim degrees'}>
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
          <Choice label="By" quiet options={['strip', 'meter']} value={method} set={(m) => change({ method: m, fine: undefined })} />
          <Choice label="Sample" quiet options={dilutions} value={dilution} set={(d) => change({ dilution: d })} />
        </div>
      </div>
      <details class="how">
        <summary>{[half.fine ? `in steps of ${half.fine}` : 'step of the ' + method, half.sample ? `at ${half.sample}` : 'temperature'].join(' · ')}</summary>
        <Choice label={`The ${method} shows`} options={steps[method] ?? []} value={half.fine ?? ''} set={(fine) => change({ fine: half.fine === fine ? undefined : fine })} />
        <Field label="Temperature of the sample" name="sample" mode="decimal" hint="22 C or 72 F; without a letter °C" value={half.sample ?? ''} set={(sample) => change({ sample })} />
      </details>
      <Pad text={half.text} set={(text) => change({ text })} enter={() => void read()} />
    </StepLayout>
  );
}
