// Vessels that stand side by side in one bath, each with its own temperature, until they are combined.

import type { Bench } from '../../shell/contract';
import type { Pot } from '../../shell/contract-formula';

/** The step of a pot to go to: its first that is open, else its last. */
export function stepOf(bench: Bench, pot: Pot): string {
  const mine = bench.steps.filter((s) => pot.phases.includes(s.phase) && s.what !== 'combine');
  return (mine.find((s) => !s.done) ?? mine.find((s) => s.what === 'heat') ?? mine[mine.length - 1])?.id ?? '';
}

interface PotsProps {
  bench: Bench;
  phase: string;
  /** weighing stays one thing at a time: the pots are a line above it, and none before one of them is warm */
  slim: boolean;
  choose: (step: string) => void;
}

export function Pots({ bench, phase, slim, choose }: PotsProps) {
  if (bench.pots.length < 2 || (slim && !bench.pots.some((p) => p.temperature))) return null;
  return (
    <div class={slim ? 'pots slim' : 'pots'} role="group" aria-label="Pots" data-part="pots">
      {bench.pots.map((pot) => (
        <button
          key={pot.name}
          type="button"
          class={pot.ready ? 'pot ready' : 'pot'}
          aria-current={pot.phases.includes(phase) ? 'true' : undefined}
          data-pot={pot.name}
          onClick={() => {
            const id = stepOf(bench, pot);
            if (id) choose(id);
          }}
        >
          <span>
            {pot.name} <i class="word">{pot.ready ? 'ready' : ''}</i>
          </span>
          <b class="num">{pot.temperature || 'not read'}</b>
          {pot.aim && !slim && <small class="num">aim {pot.aim}</small>}
        </button>
      ))}
    </div>
  );
}
