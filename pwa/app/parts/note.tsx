// A finding as a note in the margin: the level's word first, then the reason, the figure and the source.

import type { Finding } from '../../shell/contract';
import { levelWord } from '../words';
import { MaskMark } from './mask';

function Measure({ of }: { of: Finding }) {
  const parts = [of.figure, of.limit && `limit ${of.limit}`, of.source].filter(Boolean);
  if (parts.length === 0) return null;
  return <span class="src">{parts.join(' · ')}</span>;
}

export function Note({ of }: { of: Finding }) {
  return (
    <div role="note" class={`note note-${of.level}`} data-rule={of.rule} data-level={of.level}>
      {of.level === 'wear' && <MaskMark size={20} />}
      <i class="word">{levelWord[of.level]}</i> {of.says}
      {of.do && <span class="do">{of.do}</span>}
      <Measure of={of} />
    </div>
  );
}
