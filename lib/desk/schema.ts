import { z } from 'zod';

export const lifeStage = z.object({
  id: z.string(),
  label: z.string(),
  state: z.enum(['done', 'current', 'waiting', 'stopped']),
  at: z.string().nullable(),
  by: z.string().nullable(),
  href: z.string().optional(),
});
export type LifeStage = z.infer<typeof lifeStage>;

export const lifeBranch = z.object({
  id: z.string(),
  kind: z.string(),
  label: z.string(),
  href: z.string().optional(),
  stages: z.array(lifeStage),
});
export type LifeBranch = z.infer<typeof lifeBranch>;

export const birdMaterial = z.object({
  id: z.uuid(),
  label: z.string(),
  kind: z.string(),
  state: z.string().nullable(),
  custody: z.string(),
  place: z.string().nullable(),
  description: z.string().nullable(),
});

/** One bird: where it and each of its materials are now, and what its sections show. */
export const birdRecord = z.object({
  id: z.uuid(),
  number: z.string(),
  catalogueNumber: z.string().nullable(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  sex: z.string(),
  state: z.string(),
  salvage: z.object({
    id: z.uuid(),
    foundFrom: z.string(),
    foundTo: z.string(),
    stateProvince: z.string(),
    county: z.string(),
    locality: z.string().nullable(),
    cause: z.string(),
    coverage: z.string(),
    permit: z.object({ id: z.uuid(), number: z.string() }).nullable(),
    openHolds: z.array(z.string()),
  }),
  accession: z.object({ id: z.uuid(), number: z.string() }).nullable(),
  bench: z
    .object({
      id: z.uuid(),
      prepNumber: z.string(),
      state: z.string(),
      styleId: z.string(),
      preparator: z.string(),
    })
    .nullable(),
  materials: z.array(birdMaterial),
  bones: z.array(z.object({ place: z.string(), elements: z.number().int() })),
  loans: z.array(z.object({ id: z.uuid(), number: z.string(), material: z.string(), state: z.string() })),
  life: z.object({ stages: z.array(lifeStage), branches: z.array(lifeBranch) }),
});
export type BirdRecord = z.infer<typeof birdRecord>;

/** One line of a person's desk: what it is about, why it is here, where to do it (null: not in these pages). */
export const deskItem = z.object({
  id: z.string(),
  label: z.string(),
  scientificName: z.string().nullable(),
  note: z.string(),
  tone: z.enum(['neutral', 'attention', 'stop']),
  href: z.string().nullable(),
});
export type DeskItem = z.infer<typeof deskItem>;

/** A pile on a person's desk. `total` counts all of it, `items` shows the first few, `href` the whole list. */
export const deskPile = z.object({
  id: z.string(),
  title: z.string(),
  empty: z.string(),
  total: z.number().int(),
  items: z.array(deskItem),
  href: z.string().nullable(),
});
export type DeskPile = z.infer<typeof deskPile>;

export const desk = z.object({ name: z.string(), piles: z.array(deskPile) });
export type Desk = z.infer<typeof desk>;
