import { z } from 'zod';
import { undoLast } from '@/lib/bench/service/entries';
import { benchRecord } from '@/lib/bench/wire';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: z.object({}),
  response: benchRecord,
  service: ({ context, params }) => undoLast(context, params.id),
});
