'use client';

import { whenSeen } from '@/components/ui/later';

/** The bone book as a picture; the plates of the skeleton are the longest drawing there is, and stand far below. */
export const BonePicture = whenSeen(() => import('./drawn-bones').then((module) => module.DrawnBones), 8);
