// Where a row is kept, always in words.

import type { Where } from '../../shell/contract';
import { whereWord } from '../words';

export function Kept({ where }: { where: Where }) {
  return (
    <span class={`kept kept-${where}`} data-where={where}>
      {whereWord[where]}
    </span>
  );
}
