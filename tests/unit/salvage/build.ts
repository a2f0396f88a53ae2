import type { DatedFind } from '@/lib/salvage/rules/group-events';

export function makeFind(id: string, changes: Partial<DatedFind> = {}): DatedFind {
  return {
    id,
    earliestOn: '2025-05-01',
    latestOn: '2025-05-01',
    placeKey: 'US-IL, Cook, glass tower',
    latitude: null,
    longitude: null,
    quantity: 1,
    ...changes,
  };
}
