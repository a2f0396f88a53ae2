import { changeLab, showLab } from '@/lib/bench/service/lab';
import { labRequest, labSettings } from '@/lib/bench/wire-lab';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'bench.see',
  response: labSettings,
  service: ({ actor }) => showLab(actor),
});

export const PUT = defineRoute({
  permission: 'bench.manage',
  body: labRequest,
  response: labSettings,
  service: ({ context, body }) => changeLab(context, body),
});
