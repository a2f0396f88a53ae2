import { z } from 'zod';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { exportFinder } from '@/lib/salvage/service/finder-privacy';
import { finderExport } from '@/lib/salvage/wire-finder';

export const POST = defineRoute({
  permission: 'finder.see',
  params: idParams,
  body: z.object({}),
  response: finderExport,
  service: ({ context, params }) => exportFinder(context, params.id),
});
