// The sheets that the home store can draw, by their millimetres, so that they can be held against the ones in the drawer.

export interface SheetLayout {
  value: string;
  text: string;
  /** labels on one sheet */
  each: number;
  says: string;
}

export const sheets: readonly SheetLayout[] = [
  { value: 'a4-21', text: 'A4, 21 labels', each: 21, says: '3 across and 7 down, each 63.5 × 38.1 mm; 7.2 mm from the left edge, 15.2 mm from the top, 66.0 mm from one to the next' },
  { value: 'a4-8', text: 'A4, 8 labels', each: 8, says: '2 across and 4 down, each 99.1 × 67.7 mm; 4.7 mm from the left edge, 13.1 mm from the top, 101.6 mm from one to the next' },
  { value: 'roll-57', text: 'roll, 57 mm', each: 1, says: 'one label after the other, each 57 × 32 mm' },
];

/** "24 labels on 2 sheets", or on one roll. */
export function sheetCount(sheet: SheetLayout, jars: number): string {
  const labels = jars === 1 ? '1 label' : `${jars} labels`;
  if (sheet.each === 1) return `${labels} of the roll`;
  const n = Math.ceil(jars / sheet.each);
  return `${labels} on ${n === 1 ? '1 sheet' : `${n} sheets`}`;
}
