// Mixing, whipping, folding: done, with a word on how it went if there is one.

import { Field } from '../parts/field';
import { Jar } from '../parts/jar';
import { StepLayout } from './layout';
import { beside, type StepProps } from './step';

export function TreatStep({ batch, bench, step, half, change, act, open, after }: StepProps) {
  const done = async () => {
    if (await act.run('batch.treated', { batch, phase: step.phase, says: half.says ?? '' })) after();
  };
  return (
    <StepLayout
      step={step}
      act={act}
      also={[{ text: 'Density by the cup', open: () => open(beside('cup', step.phase)) }]}
      foot={
        <button type="button" class="btn" disabled={act.busy} onClick={() => void done()}>
          Done
        </button>
      }
    >
      <div class="treating">
        <Jar layers={bench.layers} fit level={step.before} height={170} />
        <div>
          {step.target.text && <p class="big num">{step.target.text}</p>}
          <Field label="How it went" name="says" long value={half.says ?? ''} set={(says) => change({ says })} hint="May stay empty." />
        </div>
      </div>
    </StepLayout>
  );
}
