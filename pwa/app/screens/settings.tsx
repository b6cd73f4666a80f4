// The workshop's name and address for labels, how the book is kept here, and what this book does not promise.

import { link, persisted } from '../../shell/client';
import type { Workshop } from '../../shell/contract-workshop';
import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { AboutTables } from '../law/tables';
import { Caution } from '../record/caution';
import { count, levelWord } from '../words';
import { HabitsForm } from './habits';
import { WorkshopForm } from './workshop';

const back = { to: '/', text: 'Today' };

export function Settings() {
  const answer = useView('workshop', {});
  if (!answer) return <NotThere name="settings" title="Settings" back={back} />;
  if (!answer.ok) return <NotThere name="settings" title="Settings" back={back} error={answer.error} />;
  return <Form of={answer.value} />;
}

function Form({ of }: { of: Workshop }) {
  return (
    <Screen name="settings" look="record" title="Settings" back={back} sub="the workshop, this phone, and what the book does not promise">
      <div class="columns">
        <div>
          <WorkshopForm of={of} title="the workshop" />
          <HabitsForm />
        </div>
        <div>
          <Here />
          <About />
        </div>
      </div>
    </Screen>
  );
}

function Here() {
  const { unsent, online, backup, aside } = link.value;
  return (
    <section data-part="here">
      <h2 class="ph">
        <span>this phone</span>
      </h2>
      {online ? (
        <a href="/health" class="kv">
          <span>
            the home store
            <small>answers; how its book, its disk and its backups are</small>
          </span>
          <span class="go">see</span>
        </a>
      ) : (
        <div class="kv">
          <span>the home store</span>
          <span>does not answer now</span>
        </div>
      )}
      <div class="kv">
        <span>only on this phone</span>
        <span class="num">{count(unsent, 'row', 'rows')}</span>
      </div>
      <div class="kv">
        <span>
          this browser
          <small>keeps the book when space is short</small>
        </span>
        <span>{persisted.value === 'kept' ? 'has promised it' : persisted.value === 'asked' ? 'is being asked' : 'does not promise it'}</span>
      </div>
      {aside > 0 && (
        <div class="note note-care" data-part="aside">
          <i class="word">{levelWord.care}</i> {count(aside, 'row', 'rows')} of an earlier name of this phone could not be taken in: put aside here, and in no book. Save the file below, and enter that work once more.
        </div>
      )}
      <a href="/rescue.html" class="kv">
        <span>
          all that is kept here
          <small>as a file, also when the book does not open</small>
        </span>
        <span class="go">save</span>
      </a>
      <div class={backup.warn ? 'note note-care' : 'kv'} data-part="backup">
        <span>
          {backup.warn && <i class="word">{levelWord.care}</i>} backups
          <small>{backup.says || (online ? '' : 'the home store tells when it answers')}</small>
        </span>
      </div>
    </section>
  );
}

function About() {
  return (
    <section class="about" data-part="about">
      <h2 class="ph">
        <span>what this book does not promise</span>
      </h2>
      <Caution />
      <p>Every finding names its source. What could not be checked is listed as not checked, with what is missing; silence is never permission.</p>
      <AboutTables />
      <p class="faint num">Stillroom {__BUILD__}</p>
    </section>
  );
}
