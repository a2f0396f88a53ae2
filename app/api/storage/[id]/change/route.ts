import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { changeUnit } from '@/lib/storage/service/units';
import { changeUnitRequest, unitRecord } from '@/lib/storage/wire';

export const POST = defineRoute({
  permission: 'storage.manage',
  params: idParams,
  body: changeUnitRequest,
  response: unitRecord,
  service: ({ context, params, body }) => changeUnit(context, params.id, body),
});
