import { buildStorageTree } from '@/lib/storage/rules';
import type { StorageUnit } from '@/lib/storage/schema';

const unit = (
  id: string,
  kind: StorageUnit['kind'],
  parentId: string | null,
  rest: Partial<StorageUnit> = {},
) => ({
  id,
  kind,
  parentId,
  parentPosition: null,
  name: id,
  code: `U-${id}`,
  grid: null,
  capacity: null,
  targetTemperatureC: null,
  allowedPreservations: null,
  ...rest,
});
const grid = { rows: 3, columns: 3, scheme: 'row-letter' as const };

export const units: StorageUnit[] = [
  unit('North', 'site', null),
  unit('Room 2', 'room', 'North'),
  unit('Freezer A', 'freezer', 'Room 2', {
    targetTemperatureC: -80,
    allowedPreservations: ['frozen', 'ethanol'],
  }),
  unit('Freezer B', 'freezer', 'Room 2', { targetTemperatureC: -20 }),
  unit('Dewar', 'freezer', 'Room 2', { targetTemperatureC: -190 }),
  unit('Cabinet', 'cabinet', 'Room 2', { targetTemperatureC: 20, allowedPreservations: ['dry', 'ethanol'] }),
  unit('Rack 1', 'rack', 'Freezer A', { grid: { rows: 2, columns: 1, scheme: 'running-by-row' } }),
  unit('Rack 2', 'rack', 'Freezer B', { capacity: 1 }),
  unit('Box 1', 'box', 'Rack 1', { grid, parentPosition: 0 }),
  unit('Box 2', 'box', 'Rack 2', { grid }),
  unit('Box 3', 'box', 'Dewar', { grid }),
  unit('Tray', 'drawer', 'Cabinet', { capacity: 2 }),
];

export const tree = buildStorageTree(units);
