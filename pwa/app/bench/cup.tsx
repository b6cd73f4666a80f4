// The density cup: a cup of known volume weighed full and empty, or a density typed. It tells how much air is in a foam
// and whether the fill fits its container.

import { useView } from '../book';
import { Choice } from '../parts/choice';
import { Fig } from '../parts/figure';
import { Trouble } from '../parts/trouble';
import type { PanelProps } from './add';
import { Pad } from './pad';
import { SideFoot } from './sidefoot';
import { Slots } from './slots';
import type { Beside } from './step';

const stages = ['before whipping', 'whipped', 'with grit'];

const slots: readonly { at: Beside['at']; label: string; unit: string }[] = [
  { at: 'full', label: 'full cup', unit: 'g' },
  { at: 'empty', label: 'empty cup', unit: 'g' },
  { at: 'volume', label: 'it holds', unit: 'mL' },
  { at: 'text', label: 'or typed', unit: 'g/mL' },
];

export function CupPanel({ batch, act, of, change, close }: PanelProps) {
  // The cup of last time is offered as it was; its figures are the engine's, and only what is typed takes their place.
  const before = useView('cup', { batch, stage: of.stage, value: '', full: '', empty: '', volume: '' });
  const known = before?.ok ? before.value : undefined;
  const typed = { text: of.text, full: of.full, empty: of.empty ?? known?.empty ?? '', volume: of.volume ?? known?.volume ?? '' };
  const args = { batch, stage: of.stage, value: typed.text, full: typed.full, empty: typed.empty, volume: typed.volume };
  const answer = useView('cup', args);
  const cup = answer?.ok ? answer.value : undefined;
  const write = async () => {
    if (await act.run('batch.density', args)) close();
  };
  const ready = Boolean(typed.text || (typed.full && typed.empty && typed.volume));
  return (
    <>
      <div class="body step" data-step="cup">
        {known?.last && <p class="last-time">{known.last}</p>}
        <Choice label="When" quiet options={stages} value={of.stage} set={(stage) => change({ stage })} />
        <Slots slots={slots} at={of.at} value={(at) => typed[at]} choose={(at) => change({ at })} />
        <p class="cup-says" aria-live="polite" data-part="density">
          {cup?.density.text ? <Fig of={cup.density} label="Density" /> : <span class="faint">Fill it level, without pressing the air out.</span>}
          {cup?.overrun.text && (
            <>
              {' · '}
              <Fig of={cup.overrun} label="Air" />
            </>
          )}
        </p>
        {cup?.fits && <p class="last-time">{cup.fits}</p>}
        <Trouble error={act.error} />
        <Pad text={typed[of.at]} set={(text) => change({ [of.at]: text })} enter={() => void write()} />
      </div>
      <SideFoot close={close} text="Write" part="write-density" disabled={act.busy || !ready} write={write} />
    </>
  );
}
