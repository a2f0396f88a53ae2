import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { showMaterial } from '@/lib/storage/material-record';
import { materialRecord } from '@/lib/storage/schema';

export const GET = defineRoute({
  permission: 'materials.see',
  params: idParams,
  response: materialRecord,
  service: ({ actor, params }) => showMaterial(actor, params.id),
});
