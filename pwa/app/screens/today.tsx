// What needs doing. An empty book begins here, with one thing to do.

import { link } from '../../shell/client';
import type { Today as TodayView } from '../../shell/contract';
import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { BatchList } from '../parts/batchlist';
import { Go } from '../parts/link';
import { count, levelWord } from '../words';
import { Attending } from './attend';
import { DemoNote } from './demonote';
import { FirstPage } from './firstpage';
import { WaitingNote } from './waiting';

export function Today() {
  const answer = useView('today', {});
  if (!answer) return <NotThere name="today" title="Today" />;
  if (!answer.ok) return <NotThere name="today" title="Today" error={answer.error} />;
  const today = answer.value;
  return (
    <Screen name="today" title="Today" sub={[today.date, today.maker].filter(Boolean).join(' · ')}>
      {today.demo && <DemoNote />}
      <WaitingNote />
      {link.value.backup.warn && (
        <div role="note" class="note note-care demo" data-part="backup">
          <i class="word">{levelWord.care}</i> {link.value.backup.says}
        </div>
      )}
      {today.formulas > 0 ? <Doing of={today} /> : !link.value.shut && <FirstPage />}
    </Screen>
  );
}

function Doing({ of }: { of: TodayView }) {
  const quiet = of.making.length + of.resting.length + of.held.length === 0;
  return (
    <div class="columns">
      <div>
        {quiet && <p class="lead">Nothing waits.</p>}
        <BatchList title="to look at and release" rows={of.resting} word="look" look />
        <BatchList title="at the bench" rows={of.making} word="go on" bench />
        <BatchList title="held" rows={of.held} word="see" />
        <Attending />
      </div>
      <div>
        <h2 class="ph">
          <span>the book</span>
        </h2>
        <Go to="/formulas" class="kv">
          <span>{count(of.formulas, 'formula', 'formulas')}</span>
          <span class="go">open</span>
        </Go>
        <Go to="/shelf" class="kv">
          <span>{of.lots === 0 ? 'no lot on the shelf yet' : `${count(of.lots, 'lot', 'lots')} on the shelf`}</span>
          <span class="go">{of.lots === 0 ? 'receive one' : 'open'}</span>
        </Go>
        <Go to="/settings" class="kv">
          <span>{of.maker || 'the workshop has no name yet'}</span>
          <span class="go">settings</span>
        </Go>
      </div>
    </div>
  );
}
