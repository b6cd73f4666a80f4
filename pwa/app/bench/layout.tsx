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
}

/** One step: what it says, what to wear, its own picture and pad, its main key at the foot. */
export function StepLayout({ step, act, children, foot }: LayoutProps) {
  return (
    <>
      <div class="body step" data-step={step.what} data-step-id={step.id} data-line={step.line || undefined}>
        {step.what !== 'wear' && step.wear.map((f) => <Note key={f.rule + f.line} of={f} />)}
        {children}
        {step.last && <p class="last-time">{step.last}</p>}
        <Trouble error={act.error} />
      </div>
      <div class="act">{foot}</div>
    </>
  );
}
