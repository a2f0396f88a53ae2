import { defineRoute } from '@/lib/platform/http';
import { listCounts, openCount } from '@/lib/storage/service/inventory';
import { countRecord, countRows, openCountRequest } from '@/lib/storage/wire-inventory';

export const GET = defineRoute({
  permission: 'storage.see',
  response: countRows,
  service: ({ actor }) => listCounts(actor),
});

export const POST = defineRoute({
  permission: 'inventory.run',
  body: openCountRequest,
  response: countRecord,
  service: ({ context, body }) => openCount(context, body.unitId),
});
