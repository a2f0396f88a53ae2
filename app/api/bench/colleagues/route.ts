import { listColleagues } from '@/lib/bench/service/records';
import { colleagues } from '@/lib/bench/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'bench.write',
  response: colleagues,
  service: ({ actor }) => listColleagues(actor),
});
