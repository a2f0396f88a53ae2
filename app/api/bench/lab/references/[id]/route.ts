import { z } from 'zod';
import { removeReferenceTable } from '@/lib/bench/service/lab';
import { labSettings } from '@/lib/bench/wire-lab';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const DELETE = defineRoute({
  permission: 'bench.manage',
  params: idParams,
  body: z.object({}),
  response: labSettings,
  service: ({ context, params }) => removeReferenceTable(context, params.id),
});
