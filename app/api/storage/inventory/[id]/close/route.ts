import { z } from 'zod';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { closeCount } from '@/lib/storage/service/inventory';
import { countRecord } from '@/lib/storage/wire-inventory';

export const POST = defineRoute({
  permission: 'inventory.run',
  params: idParams,
  body: z.object({}),
  response: countRecord,
  service: ({ context, params }) => closeCount(context, params.id),
});
