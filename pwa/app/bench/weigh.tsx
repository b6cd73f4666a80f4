// Weighing: the target, the figure on the pad, the jar filling, the lot, and one key for a scale that reads as planned.

import { useState } from 'preact/hooks';
import { Fig } from '../parts/figure';
import { Jar } from '../parts/jar';
import { StepLayout } from './layout';
import { LotChooser } from './lots';
import { Pad } from './pad';
import type { StepProps } from './step';

export function WeighStep({ batch, bench, step, half, change, act, after }: StepProps) {
  const [choosing, setChoosing] = useState(false);
  const usual = step.lots.find((l) => !l.held)?.key ?? '';
  const lot = half.lot ?? usual;
  const weigh = async (asPlanned: boolean, more: boolean) => {
    const done = await act.run('batch.weigh', { batch, line: step.line, lot, grams: asPlanned ? '' : half.text, asPlanned, more });
    if (done) after();
  };
  return (
    <StepLayout
      step={step}
      act={act}
      foot={
        half.text ? (
          <div class="two">
            <button type="button" class="btn second" disabled={act.busy} onClick={() => void weigh(false, true)}>
              And more
            </button>
            <button type="button" class="btn" disabled={act.busy} onClick={() => void weigh(false, false)}>
              Weighed
            </button>
          </div>
        ) : (
          <button type="button" class="btn" disabled={act.busy || !step.reads} data-part="as-planned" onClick={() => void weigh(true, false)}>
            {step.reads ? `Scale reads ${step.reads}` : 'Type what the scale reads'}
          </button>
        )
      }
    >
      <div class="weighing">
        <div class="figures">
          <p class={half.text ? 'aim' : 'aim alone-aim'}>
            weigh <Fig of={step.target} label="Weigh" big />
          </p>
          {half.text && (
            <p class="big num" aria-live="polite" data-part="pad-text">
              {half.text}
              <span class="unit"> g</span>
            </p>
          )}
          {step.actual && (
            <p class="to-go num">
              {step.actual} in, {step.toGo} to go
            </p>
          )}
        </div>
        <Jar layers={bench.layers} fit level={step.before} target={step.after} height={170} label={`The jar, filling with ${step.title}`} />
      </div>
      <LotChooser
        lots={step.lots}
        lot={lot}
        open={choosing}
        toggle={() => setChoosing(!choosing)}
        receive={{ batch, line: step.line, back: `/make/${batch}` }}
        choose={(key) => {
          change({ lot: key });
          setChoosing(false);
        }}
      />
      {!choosing && <Pad text={half.text} set={(text) => change({ text })} enter={() => void weigh(false, false)} />}
    </StepLayout>
  );
}
