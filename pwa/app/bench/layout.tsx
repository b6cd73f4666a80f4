import type { ComponentChildren } from 'preact';
import type { Step } from '../../shell/contract';
import { Note } from '../parts/note';
import { Trouble } from '../parts/trouble';
import type { Act } from '../act';

interface LayoutProps {
  step: Step;
  act: Act;
  children: ComponentChildren;
  foot: ComponentChildren;
  /** what may be done beside this step: a quiet key each */
  also?: { text: string; open: () => void }[];
}

/**
 * One step: what it says, what to wear, last time, its own picture and pad, its main key at the foot. Last time stands
 * above the pad: below it, a line that wraps would lie under the main key.
 */
export function StepLayout({ step, act, children, foot, also = [] }: LayoutProps) {
  return (
    <>
      <div class="body step" data-step={step.what} data-step-id={step.id} data-line={step.line || undefined}>
        {step.what !== 'wear' && step.wear.map((f) => <Note key={f.rule + f.line} of={f} />)}
        {(step.last || also.length > 0) && (
          <div class="also">
            {step.last && <p class="last-time">{step.last}</p>}
            {also.map((a) => (
              <button key={a.text} type="button" class="quiet" onClick={a.open}>
                {a.text}
              </button>
            ))}
          </div>
        )}
        {children}
        <Trouble error={act.error} />
      </div>
      <div class="act">{foot}</div>
    </>
  );
}
