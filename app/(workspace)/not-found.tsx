import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';

export default function WorkspaceNotFound() {
  return (
    <EmptyState title={say('Nothing is here')} act={<Link href={paths.home}>{say('Go to your desk')}</Link>}>
      <p>{say('The record may be in another collection, or the address was cut short.')}</p>
    </EmptyState>
  );
}
