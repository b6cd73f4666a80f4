// The workshop's name and address for labels, how the book is kept here, and what this book does not promise.

import { link, persisted } from '../../shell/client';
import type { Workshop } from '../../shell/contract';
import { useAct } from '../act';
import { besides, elsewhere, useKept, useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';
import { count } from '../words';

const back = { to: '/', text: 'Today' };
const fields = ['maker', 'address', 'contact', 'region'];
const regions = ['EU', 'UK', 'US', 'elsewhere'];

export function Settings() {
  const answer = useView('workshop', {});
  if (!answer) return <NotThere name="settings" title="Settings" back={back} />;
  if (!answer.ok) return <NotThere name="settings" title="Settings" back={back} error={answer.error} />;
  return <Form of={answer.value} />;
}

function Form({ of }: { of: Workshop }) {
  const act = useAct();
  const kept = useKept<Workshop>('workshop');
  const typed = kept.value ?? of;
  const set = (change: Partial<Workshop>) => kept.edit((now) => ({ ...(now ?? of), ...change }));
  const save = async () => {
    if (await act.run('workshop.name', typed)) kept.clear();
  };
  return (
    <Screen name="settings" look="record" title="Settings" back={back} sub="the workshop, this phone, and what the book does not promise">
      <div class="columns">
        <form
          class="paper"
          onSubmit={(e) => {
            e.preventDefault();
            void save();
          }}
        >
          <h2 class="ph">
            <span>the workshop</span>
          </h2>
          <Field label="Maker, as on the label" name="maker" value={typed.maker} set={(maker) => set({ maker })} error={besides(act.error, 'maker')} />
          <Field
            label="Label address"
            name="address"
            value={typed.address}
            set={(address) => set({ address })}
            error={besides(act.error, 'address')}
            hint="Where a jar’s QR code leads. The home store’s own address opens at home; a public one of yours opens anywhere."
          />
          <Field label="Contact, for who bought a jar" name="contact" value={typed.contact} set={(contact) => set({ contact })} error={besides(act.error, 'contact')} />
          <Choice label="Where it is sold" options={regions} value={typed.region} set={(region) => set({ region })} />
          <Trouble error={elsewhere(act.error, fields)} />
          <button type="submit" class="btn" disabled={kept.value === undefined || act.busy}>
            {kept.value === undefined ? 'Kept' : 'Keep'}
          </button>
        </form>
        <div>
          <Here />
          <About />
        </div>
      </div>
    </Screen>
  );
}

function Here() {
  const { unsent, online } = link.value;
  return (
    <section data-part="here">
      <h2 class="ph">
        <span>this phone</span>
      </h2>
      <div class="kv">
        <span>the home store</span>
        <span>{online ? 'answers' : 'does not answer now'}</span>
      </div>
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
    </section>
  );
}

function About() {
  return (
    <section class="about" data-part="about">
      <h2 class="ph">
        <span>what this book does not promise</span>
      </h2>
      <p>This book checks arithmetic and the rules that it names. It does not find a product safe or legal. Before anything is sold, the law of the place decides.</p>
      <p>
        EU and UK ask first for a safety assessment by a qualified person (Regulation (EC) 1223/2009, Art. 10), a product file, a notification, a responsible person and good practice. In the US, safety must be
        substantiated before sale, else the label must carry the warning of 21 CFR 740.10.
      </p>
      <p>Every finding names its source. What could not be checked is listed as not checked, with what is missing; silence is never permission.</p>
      <p class="faint num">Stillroom {__BUILD__}</p>
    </section>
  );
}
