import { chainVerdict } from '@/lib/audit/schema';
import { verifyOwnChain } from '@/lib/audit/service';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'audit.verify',
  response: chainVerdict,
  service: ({ actor }) => verifyOwnChain(actor),
});
