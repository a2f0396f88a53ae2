'use client';

import { BoneDrawing } from '@/components/skeletons/bone-drawing';
import { BoneLegend } from '@/components/skeletons/bone-legend';
import { NotRecorded } from '@/components/ui/number-with-unit';
import type { CatalogueRecord } from '@/lib/catalogue/wire';
import { say } from '@/lib/platform/words/say';
import { type BoneEntry, boneEntrySchema } from '@/lib/skeletons/schema';
import classes from './review.module.css';

/** The lines of a record's bone book that the drawing knows. */
function bonesOf(rows: CatalogueRecord['bones']): BoneEntry[] {
  return rows.flatMap((row) => boneEntrySchema.safeParse(row).data ?? []);
}

/** The bone book, drawn: where every bone of the bird is. */
export function DrawnBones({ rows }: { rows: CatalogueRecord['bones'] }) {
  const entries = bonesOf(rows);
  if (entries.length === 0) return <NotRecorded>{say('no bone book')}</NotRecorded>;
  return (
    <div className={classes.bones}>
      <BoneDrawing entries={entries} readOnly />
      <BoneLegend entries={entries} showKeys={false} />
    </div>
  );
}
