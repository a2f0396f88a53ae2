import { definePublicForm } from '@/lib/platform/public-form';
import { dropOffRequest } from '@/lib/salvage/schema';
import { dropOff } from '@/lib/salvage/service/slips';

/** A finder's report. No account: the token of a printed slip lets in this one kind of report and shows nothing. */
export const POST = definePublicForm({
  name: 'drop-off',
  what: 'This slip',
  body: dropOffRequest,
  otherwise: 'or fill in the paper.',
  service: dropOff,
});
