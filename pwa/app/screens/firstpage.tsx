// An empty book: the ways in, the few questions that can wait, and what the book does not promise.

import { useView } from '../book';
import { Go } from '../parts/link';
import { Caution } from '../record/caution';
import { HabitsForm } from './habits';

export function FirstPage() {
  const habits = useView('habits', {});
  return (
    <div class="columns" data-part="first-run">
      <div class="first">
        <p class="lead">An empty book. It begins with a formula: the jar fills as you write.</p>
        <Go to="/formulas/notebook" class="btn">
          Type a notebook page
        </Go>
        <Go to="/formulas/new" class="btn second">
          Write a formula
        </Go>
        <p class="faint">A page takes grams, ounces or spoons in any order, and turns them into per cent. A formula is written in per cent, phase by phase.</p>
      </div>
      <div>
        {habits?.ok && !habits.value.asked && <HabitsForm first />}
        <Caution />
      </div>
    </div>
  );
}
