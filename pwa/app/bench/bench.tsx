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
import { useAwake } from './awake';
import { useDropGuard } from './drop';
import { CombineStep } from './combine';
import { FillStep } from './fill';
import { Finished } from './finished';
import { PhStep } from './ph';
import { Pots } from './pots';
import { nothing, type Half, type StepProps } from './step';
import { Steps } from './steps';
import { TemperatureStep } from './temperature';
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
  const kept = useKept<Half>(`bench:${batch}`);
  if (!answer || !kept.known) return <NotThere name="bench" title="" back={{ to: '/make', text: 'Make' }} />;
  if (!answer.ok) return <NotThere name="bench" title="Bench" back={{ to: '/make', text: 'Make' }} error={answer.error} />;
  return <AtBench batch={batch} bench={answer.value} half={kept.value} setHalf={kept.edit} clear={kept.clear} />;
}

interface AtBenchProps {
  batch: string;
  bench: BenchView;
  half: Half | undefined;
  setHalf: (change: (now: Half | undefined) => Half) => void;
  clear: () => void;
}

function AtBench({ batch, bench, half, setHalf, clear }: AtBenchProps) {
  const guard = useDropGuard();
  const act = useAct();
  const [chosen, setChosen] = useState('');
  const [listing, setListing] = useState(false);
  /** a pot is read again though its step is done: it cools while the other one warms */
  const [again, setAgain] = useState(false);
  const at = chosen ? bench.steps.findIndex((s) => s.id === chosen) : bench.now;
  const step: Step | undefined = bench.steps[at];
  useEffect(closeSum, [step?.id, listing]);
  useNamed(`${step?.title ?? 'Bench'}, ${bench.row.code}`);
  const mine = step && half?.step === step.id ? half : nothing(step?.id ?? '');
  const Kind = step ? kinds[step.what] : undefined;
  const props: StepProps | undefined = step && {
    batch,
    bench,
    step,
    half: mine,
    change: (change) => setHalf((now) => ({ ...(now?.step === step.id ? now : nothing(step.id)), ...change })),
    act,
    after: () => {
      clear();
      setChosen('');
      setAgain(false);
      if (step.what === 'fill') go(`/batches/${batch}`);
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
          <KeptState />
        </div>
        <h1>{listing ? 'Steps' : (step?.title ?? 'All steps are done')}</h1>
        {!listing && step && (step.phase || step.says) && <div class="sub">{[step.phase && `phase ${step.phase}`, step.what !== 'wear' && step.says].filter(Boolean).join(' · ')}</div>}
      </header>
      {!listing && (
        <Pots
          bench={bench}
          slim={step?.what === 'weigh' || step?.what === 'wear'}
          phase={step?.what === 'combine' ? '' : (step?.phase ?? '')}
          choose={(id) => {
            act.forget();
            setAgain(true);
            setChosen(id);
          }}
        />
      )}
      {listing ? (
        <Steps
          batch={batch}
          bench={bench}
          at={at}
          choose={(id) => {
            act.forget();
            setAgain(false);
            setChosen(id);
            setListing(false);
          }}
        />
      ) : step && props && step.done && !(again && step.what === 'heat') ? (
        <Finished {...props} goOn={() => setChosen('')} again={() => setAgain(true)} />
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
