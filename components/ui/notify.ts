import type { NotificationData } from '@mantine/notifications';

/** Shows a short notice in the corner of the page. What draws it is loaded after the page itself, see providers.tsx. */
export function notify(notice: NotificationData): void {
  void import('@mantine/notifications').then(
    ({ notifications }) => notifications.show(notice),
    // Without a connection since before it came there is nothing to show a notice with.
    () => undefined,
  );
}
