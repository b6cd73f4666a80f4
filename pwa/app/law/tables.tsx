// About the tables of law: what each covers, from when it is, how its rows were come by, and what is in none of them.

import type { LawTable } from '../../shell/contract-law';
import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Go } from '../parts/link';
import { Caution } from '../record/caution';

const back = { to: '/settings', text: 'Settings' };

export function TablesScreen() {
  const answer = useView('law', {});
  if (!answer?.ok) return <NotThere name="law" title="About the tables" back={back} error={answer?.error} />;
  const of = answer.value;
  return (
    <Screen name="law" look="record" title="About the tables" back={back} sub={`formulas are held against the law of the ${of.region}, as far as these tables know it`}>
      <div class="columns">
        <div>
          {of.tables.map((t) => (
            <Table key={t.key} of={t} />
          ))}
        </div>
        <div>
          <h2 class="ph">
            <span>not in this book’s tables</span>
          </h2>
          <p>{of.not}</p>
          <h2 class="ph">
            <span>figures of ingredients</span>
          </h2>
          <p>{of.given}</p>
          <Caution />
        </div>
      </div>
    </Screen>
  );
}

function Table({ of }: { of: LawTable }) {
  return (
    <section data-table={of.key}>
      <h2 class="ph">
        <span>{of.name}</span>
        <span class="num src">as of {of.asOf}</span>
      </h2>
      <p>
        Covers {of.covers}.
      </p>
      <div class="kv">
        <span>
          {of.rows}
          <small>{of.known}</small>
        </span>
        <span class="num">{of.regions}</span>
      </div>
      <p class="src">{of.instrument}.</p>
      <p class="remark">Does not cover: {of.not.join('; ')}.</p>
    </section>
  );
}

/** One line for each table where a batch is released: its day and how much it knows. */
export function LawLines() {
  const answer = useView('law', {});
  if (!answer?.ok) return null;
  return (
    <div class="src" data-part="law-lines">
      {answer.value.tables.map((t) => (
        <p key={t.key}>
          {t.name}: as of {t.asOf}, {t.rows} ({t.regions})
        </p>
      ))}
      <AboutTables />
    </div>
  );
}

export function AboutTables() {
  return (
    <Go to="/settings/law" class="go tables">
      About the tables
    </Go>
  );
}
