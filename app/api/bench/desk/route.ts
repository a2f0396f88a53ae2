import { showDesk } from '@/lib/bench/service/records';
import { benchDesk } from '@/lib/bench/wire-desk';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'bench.see',
  response: benchDesk,
  service: ({ actor }) => showDesk(actor),
});
