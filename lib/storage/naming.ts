import { materialNumber } from '@/lib/platform/numbers';

/** The label of a material: under the catalogue number once there is one, before that under the salvage number. */
export function labelOf(material: {
  suffix: string;
  bird: { number: string; catalogue: { number: string } | null };
}): string {
  return materialNumber(material.bird.catalogue?.number ?? material.bird.number, material.suffix);
}

/** Where a material lies, in words: "Room 2 › Freezer B › Box 12 › A4"; null without a place. */
export const placePath = (
  placement: { unit: { path: string }; position: string | null } | null,
): string | null =>
  placement === null
    ? null
    : [placement.unit.path, placement.position].filter((part) => part !== null).join(' › ');
