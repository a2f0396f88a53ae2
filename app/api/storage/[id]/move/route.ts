import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { moveUnit } from '@/lib/storage/service/move-unit';
import { moveUnitRequest, unitRecord } from '@/lib/storage/wire';

export const POST = defineRoute({
  permission: 'storage.move',
  params: idParams,
  body: moveUnitRequest,
  response: unitRecord,
  service: ({ context, params, body }) => moveUnit(context, params.id, body),
});
