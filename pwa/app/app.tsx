// Which screen stands at which address, and the frame around it.

import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { ready, tab } from '../shell/client';
import { AgeingScreen } from './ageing/ageing';
import { ReadingScreen } from './ageing/reading';
import { Bench } from './bench/bench';
import { Lid, Tabs } from './frame/foot';
import { Elsewhere, Failed, Mark, Starting } from './frame/opening';
import { UpdateLine } from './frame/update';
import { ChallengeScreen } from './formula/challenge';
import { CompareScreen } from './formula/compare';
import { FormulaScreen } from './formula/formula';
import { IngredientScreen } from './ingredient/ingredient';
import { OwnIngredientScreen } from './ingredient/own';
import { TablesScreen } from './law/tables';
import { NotebookScreen } from './notebook/notebook';
import { closeSum, SumPanel } from './parts/figure';
import { Hatches } from './parts/hatch';
import { Go } from './parts/link';
import { UndoBar } from './parts/undo';
import { BatchScreen } from './record/batch';
import { JarScreen } from './record/jar';
import { LookScreen } from './record/look';
import { LotScreen } from './record/lot';
import { place } from './route';
import { AgainScreen } from './screens/again';
import { Formulas } from './screens/formulas';
import { Make } from './screens/make';
import { Missing } from './screens/missing';
import { Receive } from './screens/receive';
import { Scan } from './screens/scan';
import { Settings } from './screens/settings';
import { Shelf } from './screens/shelf';
import { Start } from './screens/start';
import { Today } from './screens/today';
import { Counting } from './stall/counting';
import { CardScreen } from './share/card';
import { ClassScreen } from './share/class';
import { ImportScreen } from './share/import';
import { ShareScreen } from './share/share';
import { home, Moving, out } from './stall/moving';
import { StallScreen } from './stall/stall';

function Page() {
  const { parts, query } = place.value;
  const [first, second, third] = parts;
  switch (first) {
    case undefined:
      return <Today />;
    case 'formulas':
      if (second === 'notebook') return <NotebookScreen />;
      if (second === 'import') return <ImportScreen />;
      if (second && third === 'share') return <ShareScreen id={second} revision={query.get('revision') ?? ''} />;
      if (second && third === 'card') return <CardScreen id={second} revision={query.get('revision') ?? ''} />;
      if (second && third === 'class') return <ClassScreen key={second} id={second} revision={query.get('revision') ?? ''} />;
      if (second && third === 'challenge') return <ChallengeScreen key={second} id={second} />;
      if (second && third === 'compare') return <CompareScreen id={second} from={query.get('from') ?? ''} to={query.get('to') ?? ''} />;
      if (second) return <FormulaScreen key={second + (query.get('revision') ?? '')} id={second} revision={query.get('revision') ?? ''} />;
      return <Formulas />;
    case 'ingredients':
      if (second === 'new') return <OwnIngredientScreen id={query.get('key') ?? ''} name={query.get('name') ?? ''} inci={query.get('inci') ?? ''} back={query.get('back') ?? ''} />;
      return second ? <IngredientScreen key={second} id={second} back={query.get('back') ?? ''} /> : <Missing />;
    case 'make':
      if (second === 'new') return <Start key={query.get('formula') ?? ''} formula={query.get('formula') ?? ''} />;
      if (second) return <Bench key={second} batch={second} />;
      return <Make />;
    case 'batches':
      if (second && third === 'look') return <LookScreen key={second} id={second} />;
      if (second && third === 'ageing') return <AgeingScreen key={second} id={second} />;
      if (second && third === 'reading') return <ReadingScreen key={second} id={second} />;
      return second ? <BatchScreen key={second} id={second} /> : <Make />;
    case 'shelf':
      if (second === 'receive') return <Receive ingredient={query.get('ingredient') ?? ''} back={query.get('back') ?? ''} batch={query.get('batch') ?? ''} line={query.get('line') ?? ''} />;
      if (second === 'lots' && third) return <LotScreen key={third} id={third} />;
      return <Shelf />;
    case 'stall':
      if (second === 'out') return <Moving key="out" way={out} />;
      if (second === 'back') return <Moving key="back" way={home} />;
      if (second === 'count') return <Counting />;
      return <StallScreen />;
    case 'j':
      return second ? <JarScreen key={second} code={second} /> : <Scan />;
    case 'scan':
      return <Scan />;
    case 'settings':
      if (second === 'again') return <AgainScreen />;
      return second === 'law' ? <TablesScreen /> : <Settings />;
    default:
      return <Missing />;
  }
}

/** A new page begins at its head, for the keyboard and for a voice that reads it as well. */
function useArrival(here: string): void {
  const first = useRef(true);
  useEffect(() => {
    closeSum();
    if (!first.current && !document.activeElement?.closest('main')) document.querySelector('main')?.focus({ preventScroll: true });
    first.current = false;
  }, [here]);
}

export function App() {
  const { parts } = place.value;
  const here = parts.join('/');
  useArrival(here);
  const atBench = parts[0] === 'make' && parts[1] !== undefined && parts[1] !== 'new';
  if (tab.value === 'elsewhere') return <Whole page={<Elsewhere />} />;
  if (ready.value === 'failed') return <Whole page={<Failed />} />;
  if (ready.value === 'starting') return <Whole page={<Starting />} />;
  return (
    <div class={atBench ? 'house at-bench' : 'house'}>
      <Hatches />
      {!atBench && <UpdateLine />}
      <Page />
      <footer class="foot">
        <Go to="/" class="brand">
          <Mark />
          Stillroom
        </Go>
        <SumPanel />
        <UndoBar />
        {parts[0] !== 'scan' && <Lid />}
        <Tabs />
      </footer>
    </div>
  );
}

function Whole({ page }: { page: JSX.Element }) {
  return (
    <div class="house alone">
      <Hatches />
      {page}
    </div>
  );
}
