// One product on the table. The large key sells one; touching the name opens its price and giving away.

import type { Act } from '../act';
import { besides, useKept } from '../book';
import { Field } from '../parts/field';
import { Fig } from '../parts/figure';
import { Vessel } from '../parts/vessel';
import type { OneTile } from './split';

interface TileProps {
  of: OneTile;
  place: string;
  act: Act;
  open: boolean;
  toggle: () => void;
}

function saleOf(of: OneTile, place: string) {
  return { place, product: of.product, batch: of.batch, jar: '', count: '1', price: '' };
}

export function SaleTile({ of, place, act, open, toggle }: TileProps) {
  const name = of.lid ? `${of.product}, lid ${of.lid}` : of.product;
  const sell = () => void act.run('stall.sell', saleOf(of, place));
  const left = [of.of ? `${of.left} of ${of.of} left` : `${of.left} left`, of.price || 'no price yet'].join(' · ');
  return (
    <div class={of.barred ? 'sale barred' : 'sale'} data-product={of.product} data-batch={of.batch}>
      <div class="sale-line">
        <button type="button" class="sale-name" aria-expanded={open} onClick={toggle}>
          <Vessel word={of.word} />
          <span>
            <b>{of.product}</b>
            {of.lid && <span class="lid-mark num">lid {of.lid}</span>}
            <small class="num">
              {of.barred ? (
                <>
                  <i class="word stop">stop</i> {of.barred}
                </>
              ) : (
                left
              )}
            </small>
          </span>
        </button>
        {!of.barred && of.left !== '0' && (
          <button type="button" class="plus num" data-part="sell" aria-label={`+1 ${name}: sell one`} disabled={!of.canSell} onClick={sell}>
            +1
          </button>
        )}
      </div>
      {open && <Detail of={of} place={place} act={act} close={toggle} />}
    </div>
  );
}

function Detail({ of, place, act, close }: { of: OneTile; place: string; act: Act; close: () => void }) {
  const kept = useKept<string>(`price:${of.product}`);
  const price = kept.value ?? of.price;
  const one = saleOf(of, place);
  const keep = async () => {
    if (!(await act.run('product.price', { product: of.product, price }))) return;
    kept.clear();
    close();
  };
  const give = async () => {
    if (await act.run('stall.sell', { ...one, price: 'given' })) close();
  };
  return (
    <form
      class="sale-detail"
      onSubmit={(e) => {
        e.preventDefault();
        void keep();
      }}
    >
      <p class="faint num">
        {of.batches.length === 0 && <Fig of={{ text: `${of.left} left`, sum: of.sum }} />}
        {of.batches.map((b) => (
          <Fig key={b.batch} of={{ text: `batch ${b.code}: ${b.left} left`, sum: b.sum }} />
        ))}
      </p>
      <Field label={`Price of one ${of.word || 'jar'}, from now on`} name="price" mode="decimal" value={price} set={kept.set} error={besides(act.error, 'price')} hint="What was sold keeps the price it was sold for." />
      <div class="two">
        <button type="button" class="btn second low" disabled={act.busy || !!of.barred} onClick={() => void give()}>
          Give one away
        </button>
        <button type="submit" class="btn low" disabled={act.busy || kept.value === undefined}>
          Keep the price
        </button>
      </div>
    </form>
  );
}
