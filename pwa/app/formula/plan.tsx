// How much is to be made, said in one line and written in four.

import { useState } from 'preact/hooks';
import type { Draft, Plan, Sheet } from '../../shell/contract';
import { ContainerChooser } from '../container/chooser';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Fig } from '../parts/figure';
import { scaleSteps, useHabits } from '../screens/habits';
import { levelWord } from '../words';
import { Amounts } from './amounts';

export function PlanFields({ plan, set }: { plan: Plan; set: (change: Partial<Plan>) => void }) {
  const hers = useHabits().scaleStep;
  return (
    <div class="plan-fields">
      <div class="three">
        <Field label="jars" name="jars" mode="numeric" value={plan.jars} set={(jars) => set({ jars })} />
        <Field label="of" name="fill" mode="decimal" unit="g" value={plan.fill} set={(fill) => set({ fill })} />
        <Field label="loss" name="loss" mode="decimal" unit="%" value={plan.loss} set={(loss) => set({ loss })} />
      </div>
      <Choice
        label="The scale reads to"
        options={scaleSteps(plan.step || hers)}
        value={plan.step || hers}
        set={(step) => set({ step })}
      />
      <ContainerChooser value={plan.container} set={(container) => set({ container })} />
    </div>
  );
}

/** The plan in words, without the mass at its end: that stands beside it as a figure of its own. */
export function planWords(sheet: Sheet | undefined): string {
  return sheet?.planSays.replace(`: ${sheet.mass.text}`, '') ?? '';
}

/** Whether the fill fits its container; nothing while no container was chosen. */
export function Fits({ sheet }: { sheet: Sheet | undefined }) {
  const [open, setOpen] = useState(false);
  if (!sheet?.fits) return null;
  const level = sheet.fitsLevel;
  return (
    <button type="button" class={level ? `fits note-${level}` : 'fits'} data-part="fits" data-level={level} aria-expanded={open} onClick={() => setOpen(!open)}>
      <span>
        {level && !sheet.fits.startsWith(levelWord[level]) && <i class="word">{levelWord[level]}</i>} {sheet.fits}
        {open && sheet.fitsSum && (
          <>
            <br />
            <small class="num">{sheet.fitsSum}</small>
          </>
        )}
      </span>
    </button>
  );
}

export function PlanLine({ draft, sheet, set }: { draft: Draft; sheet: Sheet | undefined; set: (change: Partial<Plan>) => void }) {
  return (
    <div class="plan-row">
      <div class="plan-says">
        {sheet?.gap && (
          <p class={sheet.over ? 'gap over' : 'gap'} data-part="gap" role="status">
            {sheet.over && <i class="word">stop</i>} {sheet.gap}
          </p>
        )}
        <details class="plan" data-part="plan">
          <summary>{planWords(sheet) || 'How many jars'}</summary>
          <PlanFields plan={draft.plan} set={set} />
          <Amounts draft={draft} setJars={(jars) => set({ jars })} />
        </details>
      </div>
      {sheet && <Fig of={sheet.mass} label="Batch" big />}
    </div>
  );
}
