import type { SizeClass } from '@/lib/queue/schema';

/**
 * Species of the demo with plausible adult means (mass in g, lengths in mm), from memory and rounded: good for a demo,
 * never for judging a bird.
 */
export type DemoSpecies = {
  name: string;
  massG: number;
  wingMm: number;
  tailMm: number;
  tarsusMm: number;
  culmenMm: number;
  sizeClass: SizeClass;
  /** How often it comes, relative to the others. */
  share: number;
};

const kind = (
  name: string,
  massG: number,
  wingMm: number,
  tailMm: number,
  tarsusMm: number,
  culmenMm: number,
  sizeClass: SizeClass,
  share = 1,
): DemoSpecies => ({ name, massG, wingMm, tailMm, tarsusMm, culmenMm, sizeClass, share });

export const DEMO_SPECIES: readonly DemoSpecies[] = [
  kind('Turdus migratorius', 77, 128, 97, 33, 20, 'small', 12),
  kind('Catharus ustulatus', 31, 97, 68, 28, 13, 'small', 8),
  kind('Catharus guttatus', 31, 92, 68, 30, 13, 'small', 6),
  kind('Seiurus aurocapilla', 19, 74, 54, 22, 12, 'tiny', 10),
  kind('Zonotrichia albicollis', 26, 73, 74, 23, 11, 'small', 11),
  kind('Melospiza melodia', 21, 65, 68, 21, 12, 'small', 5),
  kind('Setophaga coronata', 12.5, 73, 57, 19, 10, 'tiny', 6),
  kind('Regulus satrapa', 6, 57, 43, 17, 8, 'tiny', 5),
  kind('Archilochus colubris', 3.2, 42, 27, 5, 17, 'tiny', 4),
  kind('Colaptes auratus', 132, 156, 104, 30, 34, 'medium', 4),
  kind('Sphyrapicus varius', 50, 124, 74, 21, 24, 'small', 4),
  kind('Zenaida macroura', 119, 145, 132, 21, 14, 'medium', 5),
  kind('Cardinalis cardinalis', 44, 93, 100, 25, 17, 'small', 5),
  kind('Coccyzus americanus', 62, 143, 142, 26, 27, 'small', 2),
  kind('Scolopax minor', 190, 132, 59, 31, 68, 'medium', 3),
  kind('Megascops asio', 180, 166, 80, 38, 15, 'medium', 2),
  kind('Buteo jamaicensis', 1120, 380, 220, 84, 25, 'large', 2),
  kind('Larus delawarensis', 520, 375, 152, 57, 42, 'large', 2),
  kind('Butorides virescens', 210, 178, 62, 49, 60, 'medium', 1),
  kind('Sturnus vulgaris', 82, 129, 64, 29, 24, 'small', 3),
];
