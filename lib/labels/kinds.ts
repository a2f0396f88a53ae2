import type { z } from 'zod';
import { layOutSkeletonBox, layOutStorageLabel, skeletonBoxSchema, storageLabelSchema } from './kinds/boxes';
import { carcassBagSchema, dropOffSlipSchema, layOutCarcassBag, layOutDropOffSlip } from './kinds/intake';
import { layOutSpecimenTag, specimenTagSchema } from './kinds/specimen-tag';
import { layOutVialCap, layOutVialSide, vialCapSchema, vialSideSchema } from './kinds/vials';
import type { LabelElement, LabelSize } from './schema';

/** One kind of label: what goes on it, how it is laid out, and the stock it is made for. */
type LabelKindOf<Schema extends z.ZodType> = {
  name: string;
  schema: Schema;
  layOut: (content: z.output<Schema>, size: LabelSize) => LabelElement[];
  stockIds: readonly [string, ...string[]];
};

function defineKind<Schema extends z.ZodType>(kind: LabelKindOf<Schema>): LabelKindOf<Schema> {
  return kind;
}

export const labelKinds = {
  'specimen-tag': defineKind({
    name: 'Specimen tag',
    schema: specimenTagSchema,
    layOut: layOutSpecimenTag,
    stockIds: ['a4-tags-90x40', 'letter-tags-90x40'],
  }),
  'skeleton-box': defineKind({
    name: 'Skeleton box label',
    schema: skeletonBoxSchema,
    layOut: layOutSkeletonBox,
    stockIds: ['a4-box-99x57', 'roll-100x50'],
  }),
  'vial-side': defineKind({
    name: 'Vial label, side',
    schema: vialSideSchema,
    layOut: layOutVialSide,
    stockIds: ['letter-vials-33x13', 'roll-33x13'],
  }),
  'vial-cap': defineKind({
    name: 'Vial label, cap',
    schema: vialCapSchema,
    layOut: layOutVialCap,
    stockIds: ['roll-cap-11'],
  }),
  'carcass-bag': defineKind({
    name: 'Carcass bag tag',
    schema: carcassBagSchema,
    layOut: layOutCarcassBag,
    stockIds: ['roll-100x50', 'a4-box-99x57'],
  }),
  'drop-off-slip': defineKind({
    name: 'Drop-off slip',
    schema: dropOffSlipSchema,
    layOut: layOutDropOffSlip,
    stockIds: ['a4-slips-210x148'],
  }),
  storage: defineKind({
    name: 'Storage label',
    schema: storageLabelSchema,
    layOut: layOutStorageLabel,
    stockIds: ['roll-80x30', 'letter-storage-66x25'],
  }),
} as const;

export type LabelKind = keyof typeof labelKinds;
export type LabelContent<Kind extends LabelKind> = z.input<(typeof labelKinds)[Kind]['schema']>;
export const labelKindNames = Object.keys(labelKinds) as LabelKind[];
