'use client';

import { IconBell } from '@tabler/icons-react';
import { useQuery } from '@tanstack/react-query';
import { Link } from '@/components/ui/link';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import classes from './notice-bell.module.css';
import { unreadOptions } from './unread';

const MOST_SHOWN = 99;

/** The way to one's notices in every page's head, with how many are unread; live like every list. */
export function NoticeBell() {
  const { data } = useQuery(unreadOptions());
  const unread = data?.unread ?? 0;
  return (
    <Link href={paths.notices} className={classes.bell}>
      <IconBell size={22} stroke={1.5} aria-hidden="true" />
      <span className="f-hidden">
        {unread === 0 ? say('Notices') : say('Notices, {unread} unread', { unread })}
      </span>
      {unread > 0 && (
        <span className={classes.count} aria-hidden="true">
          {unread > MOST_SHOWN ? `${MOST_SHOWN}+` : unread}
        </span>
      )}
    </Link>
  );
}
