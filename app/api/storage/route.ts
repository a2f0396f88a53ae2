import { defineRoute } from '@/lib/platform/http';
import { showTree } from '@/lib/storage/service/tree';
import { makeUnits } from '@/lib/storage/service/units';
import { madeUnits, makeUnitsRequest, storageTree } from '@/lib/storage/wire';

export const GET = defineRoute({
  permission: 'storage.see',
  response: storageTree,
  service: ({ actor }) => showTree(actor),
});

export const POST = defineRoute({
  permission: 'storage.manage',
  body: makeUnitsRequest,
  response: madeUnits,
  service: ({ context, body }) => makeUnits(context, body),
});
