// A step that is written down already: what it says, and the way to correct it.

import { Rows } from '../record/rows';
import { StepLayout } from './layout';
import { beside, type StepProps } from './step';

export function Finished({ bench, step, act, open, goOn, again }: StepProps & { goOn: () => void; again: () => void }) {
  const rows = bench.rows.filter((r) => r.entry === step.entry);
  const also = bench.rows.filter((r) => r.struck && r.now === step.entry);
  return (
    <StepLayout
      step={step}
      act={act}
      also={step.what === 'ph' ? [{ text: 'Adjust the pH', open: () => open(beside('adjust', step.phase)) }] : []}
      foot={
        <div class="two">
          {(step.what === 'heat' || step.what === 'ph') && (
            <button type="button" class="btn second" onClick={again}>
              Read again
            </button>
          )}
          {step.what === 'weigh' && (
            <button type="button" class="btn second" data-part="more-of-it" onClick={() => open(beside('add', step.phase, step.line))}>
              More of it
            </button>
          )}
          <button type="button" class="btn" onClick={goOn}>
            Go on
          </button>
        </div>
      }
    >
      <Rows rows={[...also, ...rows]} openFirst />
    </StepLayout>
  );
}
