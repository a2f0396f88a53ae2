'use client';

import { whenSeen } from '@/components/ui/later';

/** The history of a record, whose sentences for every event come after the page. */
export const RecordHistory = whenSeen(() => import('./told-history').then((module) => module.ToldHistory));
