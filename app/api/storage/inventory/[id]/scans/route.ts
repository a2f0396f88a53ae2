import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { addScans } from '@/lib/storage/service/inventory';
import { countRecord, scansRequest } from '@/lib/storage/wire-inventory';

export const POST = defineRoute({
  permission: 'inventory.run',
  params: idParams,
  body: scansRequest,
  response: countRecord,
  service: ({ context, params, body }) => addScans(context, params.id, body),
});
