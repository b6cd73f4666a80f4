// The bench: one thing to do at a time, on a screen that stays on.

import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Bench as BenchView, Step } from '../../shell/contract';
import { useAct } from '../act';
import { useKept, useView } from '../book';
import { KeptState, NotThere, useNamed } from '../frame/screen';
import { closeSum } from '../parts/figure';
import { Go } from '../parts/link';
import { go } from '../route';
import { AddPanel } from './add';
import { AdjustPanel } from './adjust';
import { useAwake } from './awake';
import { CombineStep } from './combine';
import { CupPanel } from './cup';
import { useDropGuard } from './drop';
import { FillStep } from './fill';
import { Finished } from './finished';
import { PhStep } from './ph';
import { NetsPanel } from './nets';
import { Pots } from './pots';
import { RescuePanel } from './rescue';
import { asAtBench, beside as besideOf, nothing, type AtBench as Half, type StepProps } from './step';
import { Steps } from './steps';
import { TemperatureStep } from './temperature';
import { TopUpPanel } from './topup';
import { TreatStep } from './treat';
import { WearStep } from './wear';
import { WeighStep } from './weigh';

const kinds: Record<string, (p: StepProps) => JSX.Element> = {
  wear: WearStep,
  weigh: WeighStep,
  heat: TemperatureStep,
  cool: TemperatureStep,
  combine: CombineStep,
  treat: TreatStep,
  ph: PhStep,
  fill: FillStep,
};

export function Bench({ batch }: { batch: string }) {
  useAwake();
  const answer = useView('bench', { key: batch });
  const kept = useKept<Partial<Half>>(`bench:${batch}`);
  if (!answer || !kept.known) return <NotThere name="bench" title="" back={{ to: '/make', text: 'Make' }} />;
  if (!answer.ok) return <NotThere name="bench" title="Bench" back={{ to: '/make', text: 'Make' }} error={answer.error} />;
  return <AtBench batch={batch} bench={answer.value} half={asAtBench(kept.value)} edit={(change) => kept.edit((now) => change(asAtBench(now)))} />;
}

interface AtBenchProps {
  batch: string;
  bench: BenchView;
  half: Half;
  edit: (change: (now: Half) => Half) => void;
}

const besideTitle = { add: 'What else goes in', adjust: 'Adjust the pH', cup: 'Density by the cup', nets: 'Weigh filled jars', rescue: 'Too much went in', topup: 'Weigh the vessel' };

function AtBench({ batch, bench, half, edit }: AtBenchProps) {
  const guard = useDropGuard();
  const act = useAct();
  const [listing, setListing] = useState(false);
  const { chosen, again } = half;
  const rescue = useView('rescue', { batch, stirred: '', room: '' });
  const over = rescue?.ok ? rescue.value.says : '';
  // Nothing more goes in before a way out was chosen or put off, so the ways open by themselves, once.
  const beside = half.beside ?? (over && half.putOff !== over ? besideOf('rescue', '') : undefined);
  const at = chosen ? bench.steps.findIndex((s) => s.id === chosen) : bench.now;
  const step: Step | undefined = bench.steps[at];
  useEffect(closeSum, [step?.id, listing, beside?.what]);
  useNamed(`${step?.title ?? 'Bench'}, ${bench.row.code}`);
  const Kind = step ? kinds[step.what] : undefined;
  const goTo = (id: string, readAgain: boolean) => {
    act.forget();
    edit((now) => ({ ...now, chosen: id, again: readAgain }));
    setListing(false);
  };
  const open = (what: Half['beside']) => {
    act.forget();
    setListing(false);
    edit((now) => ({ ...now, beside: what }));
  };
  const props: StepProps | undefined = step && {
    batch,
    bench,
    step,
    half: half.halves[step.id] ?? nothing,
    change: (change) => edit((now) => ({ ...now, halves: { ...now.halves, [step.id]: { ...(now.halves[step.id] ?? nothing), ...change } } })),
    act,
    open,
    read: (id) => goTo(id, true),
    after: () => {
      edit((now) => {
        const { [step.id]: _written, ...halves } = now.halves;
        return { ...now, chosen: '', again: false, halves };
      });
      if (step.what === 'fill') go(`/batches/${batch}`);
    },
  };
  const writing = beside && bench.steps.some((s) => s.what === 'fill' && !s.done) && !listing ? beside : undefined;
  const panel = writing && {
    batch,
    act,
    of: writing,
    change: (change: Partial<NonNullable<Half['beside']>>) => edit((now) => ({ ...now, beside: { ...(now.beside ?? writing), ...change } })),
    close: () => {
      open(undefined);
      if (writing.what === 'rescue') edit((now) => ({ ...now, putOff: over }));
    },
  };
  return (
    <main class="screen bench" data-screen="bench" tabIndex={-1} {...guard}>
      <header class="top">
        <div class="over">
          <Go to={`/batches/${batch}`} class="back">
            ‹ {bench.row.code}
          </Go>
          <button type="button" class="quiet where" aria-expanded={listing} onClick={() => setListing(!listing)}>
            {step ? `step ${at + 1} of ${bench.steps.length}` : `${bench.steps.length} steps`}
          </button>
          <KeptState short />
        </div>
        <h1>{writing ? besideTitle[writing.what] : listing ? 'Steps' : (step?.title ?? 'All steps are done')}</h1>
        {!listing && !writing && step && (step.phase || step.says) && (
          <div class="sub">{[step.phase && `phase ${step.phase}`, step.what !== 'wear' && step.says].filter(Boolean).join(' · ')}</div>
        )}
      </header>
      {over && !writing && (
        <button type="button" class="over-plan" data-part="ways-out" onClick={() => open(besideOf('rescue', step?.phase ?? ''))}>
          <i class="word">take care</i> Too much went in <span class="go">ways out</span>
        </button>
      )}
      {bench.ph && !over && !writing && !listing && step?.what !== 'ph' && (
        <button type="button" class="over-plan" data-part="ph-outside" onClick={() => open(besideOf('adjust', step?.phase ?? ''))}>
          <i class="word">take care</i> {bench.ph} <span class="go">adjust</span>
        </button>
      )}
      {!listing && !writing && step?.what !== 'combine' && (
        <Pots bench={bench} slim={step?.what === 'weigh' || step?.what === 'wear'} phase={step?.phase ?? ''} choose={(id) => goTo(id, true)} />
      )}
      {listing ? (
        <Steps batch={batch} bench={bench} at={at} choose={(id) => goTo(id, false)} open={open} phase={step?.phase ?? ''} />
      ) : panel ? (
        panel.of.what === 'add' ? (
          <AddPanel {...panel} />
        ) : panel.of.what === 'rescue' ? (
          <RescuePanel {...panel} open={open} />
        ) : panel.of.what === 'topup' ? (
          <TopUpPanel {...panel} open={open} />
        ) : panel.of.what === 'nets' ? (
          <NetsPanel {...panel} />
        ) : panel.of.what === 'adjust' ? (
          <AdjustPanel
            {...panel}
            measure={() => {
              open(undefined);
              goTo('ph', true);
            }}
          />
        ) : (
          <CupPanel {...panel} />
        )
      ) : step && props && step.done && !(again && (step.what === 'heat' || step.what === 'ph')) ? (
        <Finished {...props} goOn={() => goTo('', false)} again={() => goTo(step.id, true)} />
      ) : Kind && props ? (
        <Kind key={step?.id} {...props} />
      ) : (
        <>
          <div class="body">
            <p>Everything of this batch is written down.</p>
          </div>
          <div class="act">
            <button type="button" class="btn" onClick={() => go(`/batches/${batch}`)}>
              To the record
            </button>
          </div>
        </>
      )}
    </main>
  );
}
