import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { sensitivityChange, taxonRecord } from '@/lib/taxa/schema';
import { changeSensitivity } from '@/lib/taxa/service/taxa';

export const POST = defineRoute({
  permission: 'taxa.manage',
  params: idParams,
  body: sensitivityChange,
  response: taxonRecord,
  service: ({ context, params, body }) => changeSensitivity(context, params.id, body),
});
