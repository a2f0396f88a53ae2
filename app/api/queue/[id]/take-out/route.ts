import { z } from 'zod';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { takeOutOfFreezer } from '@/lib/queue/service';
import { queueRow } from '@/lib/queue/wire';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: z.object({}),
  response: queueRow,
  service: ({ context, params }) => takeOutOfFreezer(context, params.id),
});
