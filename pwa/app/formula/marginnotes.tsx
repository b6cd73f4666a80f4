import { Folded, Note } from '../parts/note';
import type { Placed } from './placing';

/** The notes beside one line or phase. */
export function MarginNotes({ of, openAll }: { of: readonly Placed[]; openAll: () => void }) {
  if (of.length === 0) return null;
  return (
    <>
      {of.filter((p) => p.open).map((p) => (
        <Note key={p.of.rule + p.of.says} of={p.of} />
      ))}
      {of.filter((p) => !p.open).map((p) => (
        <Folded key={p.of.rule + p.of.says} of={p.of} open={openAll} />
      ))}
    </>
  );
}
