/** The numbers of a report that one can open: its columns, and the two sums over them. */
export const figures = [
  'opening',
  'late',
  'salvaged',
  'received',
  'corrections',
  'reclassifiedIn',
  'reclassifiedOut',
  'transferred',
  'destroyed',
  'released',
  'catalogued',
  'onHand',
  'acquired',
  'disposed',
] as const;
export type Figure = (typeof figures)[number];
