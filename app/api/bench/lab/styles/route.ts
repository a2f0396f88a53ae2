import { saveStyle } from '@/lib/bench/service/lab';
import { labSettings, saveStyleRequest } from '@/lib/bench/wire-lab';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'bench.manage',
  body: saveStyleRequest,
  response: labSettings,
  service: ({ context, body }) => saveStyle(context, body),
});
