// A lot, and everything that it went into: every batch, every jar, every place.

import { useState } from 'preact/hooks';
import type { Lot } from '../../shell/contract-lots';
import { useAct } from '../act';
import { besides, elsewhere, useKept, useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Field } from '../parts/field';
import { Fig } from '../parts/figure';
import { Kept } from '../parts/kept';
import { Go } from '../parts/link';
import { StateWord } from '../parts/stateword';
import { Trouble } from '../parts/trouble';
import { Jars } from './jars';

const back = { to: '/shelf', text: 'Shelf' };

export function LotScreen({ id }: { id: string }) {
  const [all, setAll] = useState(false);
  const answer = useView('lot', { key: id, all });
  if (!answer) return <NotThere name="lot" title="" back={back} />;
  if (!answer.ok) return <NotThere name="lot" title="Lot" back={back} error={answer.error} />;
  const lot = answer.value;
  const { row } = lot;
  const facts = [
    ['received', lot.received],
    // A made base says where it came from; a delivery's source is its supplier, and that stands there already.
    row.supplier ? ['supplier', [row.supplier, row.supplierLot].filter(Boolean).join(' · ')] : ['came', lot.source],
    ['best before', row.expiry],
  ].filter(([, value]) => value);
  return (
    <Screen
      name="lot"
      look="record"
      back={back}
      title={row.name}
      sub={
        <>
          lot <b class="num code">{row.code}</b> · <Kept where={row.where} /> {row.held && <StateWord state="held" />}
        </>
      }
      foot={<HoldLot of={lot} />}
    >
      <div class="columns">
        <div>
          <div class="kv">
            <span>on hand</span>
            <Fig of={row.onHand} label="On hand" />
          </div>
          {facts.map(([word, value]) => (
            <div key={word} class="kv">
              <span>{word}</span>
              <span class="num">{value}</span>
            </div>
          ))}
          {lot.says && <p class="lead trace">{lot.says}</p>}
        </div>
        <div>
          <section data-part="trace-batches">
            <h2 class="ph">
              <span>went into</span>
              <span class="faint num">{lot.batches.length}</span>
            </h2>
            {lot.batches.map(({ batch, grams }) => (
              <Go key={batch.key} to={`/batches/${batch.key}`} class="kv">
                <span>
                  {batch.name}
                  <small class="num">
                    {batch.code} · {batch.state} {batch.jars && `· ${batch.jars}`}
                  </small>
                </span>
                <span class="num">{grams}</span>
              </Go>
            ))}
            {lot.batches.length === 0 && <p class="faint">No batch yet.</p>}
          </section>
          <Jars jars={lot.jars} says="jars with this lot" places={lot.places} open={all || lot.jars.length <= 30} total={lot.jarsCount} more={lot.more} listAll={() => setAll(true)} />
        </div>
      </div>
    </Screen>
  );
}

function HoldLot({ of }: { of: Lot }) {
  const act = useAct();
  const [open, setOpen] = useState(false);
  const kept = useKept<string>(`lot-hold:${of.row.key}`);
  const { held } = of.row;
  if (!open) {
    return (
      <button type="button" class="btn second" onClick={() => setOpen(true)}>
        {held ? 'Let this lot go' : 'Hold this lot'}
      </button>
    );
  }
  const send = async () => {
    if (!(await act.run('lot.hold', { lot: of.row.key, held: !held, reason: kept.value ?? '' }))) return;
    kept.clear();
    setOpen(false);
  };
  return (
    <form
      class="standing"
      onSubmit={(e) => {
        e.preventDefault();
        void send();
      }}
    >
      <Field label={held ? 'Why it is let go' : 'Why it is held'} name="reason" value={kept.value ?? ''} set={kept.set} error={besides(act.error, 'reason')} />
      <Trouble error={elsewhere(act.error, ['reason'])} />
      <div class="two">
        <button type="button" class="btn second" onClick={() => setOpen(false)}>
          Not now
        </button>
        <button type="submit" class="btn" disabled={act.busy}>
          {held ? 'Let go' : 'Hold'}
        </button>
      </div>
    </form>
  );
}
