import { PermitForm } from '@/components/permits/permit-form';
import { listPermitDefaults } from '@/lib/permits/service/rule-packs';
import { requireActor } from '@/lib/platform/page';

export const metadata = { title: 'Enter a permit' };

export default async function NewPermitPage() {
  const actor = await requireActor('permits.manage');
  return <PermitForm defaults={await listPermitDefaults(actor)} />;
}
