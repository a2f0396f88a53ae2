import type { BonePatch } from '@/lib/skeletons/schema';
import { PLACES } from '@/lib/skeletons/words';

const STATE_KEYS = { w: 'whole', b: 'broken', m: 'missing' } as const;

/** What a key does to the bone in focus: 1–8 a place, 0 none, w b m a state; null for every other key. */
export function patchForKey(key: string): BonePatch | null {
  if (key === '0') return { place: null };
  if (/^[1-9]$/.test(key)) {
    const place = PLACES[Number(key) - 1];
    return place ? { place } : null;
  }
  const letter = key.toLowerCase();
  return letter === 'w' || letter === 'b' || letter === 'm' ? { state: STATE_KEYS[letter] } : null;
}
