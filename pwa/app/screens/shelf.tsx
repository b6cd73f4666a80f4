import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Fig } from '../parts/figure';
import { Kept } from '../parts/kept';
import { Go } from '../parts/link';
import { ShelfJars } from './shelfjars';

export function Shelf() {
  const lots = useView('lots', {});
  if (!lots) return <NotThere name="shelf" title="Shelf" />;
  if (!lots.ok) return <NotThere name="shelf" title="Shelf" error={lots.error} />;
  // By name, as on a real shelf; within an ingredient the book's own order stands: nearest expiry first.
  const byName = [...lots.value].sort((a, b) => a.name.localeCompare(b.name));
  return (
    <Screen
      name="shelf"
      title="Shelf"
      foot={
        <Go to="/shelf/receive" class="btn">
          Receive a lot
        </Go>
      }
    >
      <div class="columns">
        <section data-part="lots">
          <h2 class="ph">
            <span>lots</span>
            <a class="go jump" href="#jars">
              jars by place
            </a>
          </h2>
          {byName.map((l) => (
            <div key={l.key} class="row lot-row" data-lot={l.code}>
              <Go to={`/shelf/lots/${l.key}`} class="name">
                <span>
                  {l.name} <b class="num code">{l.code}</b>
                </span>
                <small>
                  {l.expiry && `best before ${l.expiry} · `}
                  <Kept where={l.where} />
                  {l.held && (
                    <>
                      {' '}
                      · <i class="word stop">held</i>
                    </>
                  )}
                </small>
              </Go>
              <Fig of={l.onHand} label={`${l.name} ${l.code}, on hand`} />
            </div>
          ))}
          {lots.value.length === 0 && <p class="lead">No lot yet. A lot is one delivery of an ingredient: with it, every jar can be traced back.</p>}
        </section>
        <ShelfJars />
      </div>
    </Screen>
  );
}
