// What wants a hand soon, besides batches: samples to read, jars away from home, what runs low, lots near their date. Short lists, said calmly.

import type { AttendRow } from '../../shell/contract-workshop';
import { useView } from '../book';
import { Go } from '../parts/link';

const words: Record<string, string> = { count: 'count', lot: 'see', receive: 'receive', shelf: 'open', stall: 'open', ageing: 'read' };

function path(of: AttendRow): string {
  if (of.to === 'ageing') return `/batches/${of.key}/ageing`;
  if (of.to === 'lot') return `/shelf/lots/${of.key}`;
  if (of.to === 'receive') return `/shelf/receive?ingredient=${encodeURIComponent(of.key)}`;
  if (of.to === 'count') return of.key === 'stall' ? '/stall/count' : '/stall';
  return `/${of.to}`;
}

function Rows({ title, rows }: { title: string; rows: readonly AttendRow[] }) {
  if (rows.length === 0) return null;
  return (
    <section data-part={`attend-${title}`}>
      <h2 class="ph">
        <span>{title}</span>
      </h2>
      {rows.map((r) => (
        <Go key={r.title + r.key} to={path(r)} class="kv">
          <span>
            {r.title}
            {r.value && <b class="num"> {r.value}</b>}
            {r.says && <small>{r.says}</small>}
          </span>
          <span class="go">{words[r.to] ?? 'open'}</span>
        </Go>
      ))}
    </section>
  );
}

export function Attending() {
  const answer = useView('attend', {});
  if (!answer?.ok) return null;
  const { stall, low, expiring, ageing } = answer.value;
  return (
    <>
      <Rows title="samples to read" rows={ageing} />
      <Rows title="away from home" rows={stall} />
      <Rows title="running low" rows={low} />
      <Rows title="lots near their date" rows={expiring} />
    </>
  );
}
