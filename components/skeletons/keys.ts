import type { ShortcutIn } from '@/components/ui/shortcuts/table';
import type { BonePatch } from '@/lib/skeletons/schema';
import { PLACES } from '@/lib/skeletons/words';

/** What an act of the keyboard does to the bone in focus; `key` says which place. Null for acts that change nothing. */
export function patchOf(act: ShortcutIn<'bones'> | null, key: string): BonePatch | null {
  switch (act) {
    case 'bones.unplace':
      return { place: null };
    case 'bones.place': {
      const place = PLACES[Number(key) - 1];
      return place ? { place } : null;
    }
    case 'bones.whole':
      return { state: 'whole' };
    case 'bones.broken':
      return { state: 'broken' };
    case 'bones.missing':
      return { state: 'missing' };
    default:
      return null;
  }
}
