// An empty vessel in outline, by the product's own word.

const drawn: Record<string, string> = {
  jar: 'M6 4h34v10H6zM9 18C6 20 5 22 5 26V42C5 47 8 50 13 50H33C38 50 41 47 41 42V26C41 22 40 20 37 18Z',
  bottle: 'M18 2h10v7H18zM18 12h10v5c6 3 8 6 8 11v17c0 3-2 5-5 5H15c-3 0-5-2-5-5V28c0-5 2-8 8-11z',
  tin: 'M4 17h38v9H4zM6 29h34v11c0 3-2 5-5 5H11c-3 0-5-2-5-5z',
  bar: 'M6 22l9-8h26l-7 8zM6 22h28v18H6zM34 22l7-8v17l-7 9z',
  pouch: 'M9 4h28l-3 10 5 30c0 4-2 6-6 6H13c-4 0-6-2-6-6l5-30zM12 14h22',
};

export function Vessel({ word }: { word: string }) {
  return (
    <svg class="vessel" viewBox="0 0 46 52" width="46" height="52" aria-hidden="true">
      <path d={drawn[word] ?? drawn.jar} />
    </svg>
  );
}
