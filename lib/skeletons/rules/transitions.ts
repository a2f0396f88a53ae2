import { SKELETON_STATES, type SkeletonState } from './cleaning';

/**
 * Where a skeleton may go from each state. It can go back to cleaning while grease or flesh shows, and from the shelf or
 * the count into the pest freezer when something living is found.
 */
export const SKELETON_TRANSITIONS: Readonly<Record<SkeletonState, readonly SkeletonState[]>> = {
  'rough-cleaned': ['cleaning', 'dry'],
  cleaning: ['dry', 'rough-cleaned'],
  dry: ['pest-freeze', 'cleaning'],
  'pest-freeze': ['counted', 'dry'],
  counted: ['shelved', 'cleaning', 'pest-freeze'],
  shelved: ['pest-freeze', 'counted'],
};

export const isSkeletonState = (value: string): value is SkeletonState =>
  (SKELETON_STATES as readonly string[]).includes(value);

export const canMoveSkeleton = (from: SkeletonState, to: SkeletonState): boolean =>
  SKELETON_TRANSITIONS[from].includes(to);
