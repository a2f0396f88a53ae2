import Link from 'next/link';
import { PlainPage } from '@/components/ui/plain-page';

export const metadata = { title: 'Not open to your roles' };

export default function Forbidden() {
  return (
    <PlainPage
      title="Not open to your roles"
      lede={
        <p>
          You are signed in, but this page needs a right your roles do not give. An administrator can change
          that.
        </p>
      }
    >
      <Link href="/">Go to your first page</Link>
    </PlainPage>
  );
}
