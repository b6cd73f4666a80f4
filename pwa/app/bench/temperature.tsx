// Heating and cooling close with a measured temperature, never with a bell.

import { Choice } from '../parts/choice';
import { Fig } from '../parts/figure';
import { Cooling } from './cooling';
import { StepLayout } from './layout';
import { Pad } from './pad';
import { beside, type StepProps } from './step';

const units = [
  { value: 'C', text: '°C' },
  { value: 'F', text: '°F' },
];

export function TemperatureStep({ batch, step, half, change, act, open, after }: StepProps) {
  const unit = half.unit ?? (step.target.text.includes('F') ? 'F' : 'C');
  const read = async () => {
    if (await act.run('batch.temperature', { batch, phase: step.phase, value: half.text, unit })) after();
  };
  return (
    <StepLayout
      step={step}
      act={act}
      foot={
        <button type="button" class="btn" disabled={act.busy || !half.text} onClick={() => void read()}>
          {half.text ? `It reads ${half.text} °${unit}` : 'Read the thermometer'}
        </button>
      }
    >
      <div class="weighing">
        <div class="figures">
          {step.target.text && (
            <p class={half.text ? 'aim' : 'aim degrees'}>
              {step.what === 'cool' ? 'cool to' : 'heat to'} <Fig of={step.target} label="Target" big />
            </p>
          )}
          {half.text && (
            <p class="big num" aria-live="polite" data-part="pad-text">
              {half.text}
              <span class="unit"> °{unit}</span>
            </p>
          )}
          {step.actual && <p class="to-go num">{step.actual}</p>}
        </div>
        <Choice label="Unit" quiet options={units} value={unit} set={(u) => change({ unit: u })} />
      </div>
      {step.what === 'cool' && <Cooling batch={batch} phase={step.phase} room={half.room ?? ''} unit={unit} setRoom={(room) => change({ room })} />}
      <Pad text={half.text} set={(text) => change({ text })} enter={() => void read()} />
      {step.what === 'heat' && (
        <button type="button" class="quiet" data-part="weigh-vessel" onClick={() => open(beside('topup', step.phase))}>
          Weigh the vessel
        </button>
      )}
    </StepLayout>
  );
}
