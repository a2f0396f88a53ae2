import { BlockList, isIP } from 'node:net';

/**
 * What must never be reached from here at somebody's wish. IPv4: IANA special-purpose address registry (RFC 6890 and
 * later, from memory) with multicast and what is reserved; the addresses where clouds give out their secrets are
 * link-local or carrier-grade ones.
 */
const INNER_V4: readonly [string, number][] = [
  ['0.0.0.0', 8],
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['172.16.0.0', 12],
  ['192.0.0.0', 24],
  ['192.0.2.0', 24],
  ['192.31.196.0', 24],
  ['192.52.193.0', 24],
  ['192.88.99.0', 24],
  ['192.168.0.0', 16],
  ['192.175.48.0', 24],
  ['198.18.0.0', 15],
  ['198.51.100.0', 24],
  ['203.0.113.0', 24],
  ['224.0.0.0', 3],
];

/** Of IPv6 only global unicast is public, without what carries IPv4, is for protocols, or is for documents. */
const GLOBAL_V6: [string, number] = ['2000::', 3];
const INNER_V6: readonly [string, number][] = [
  ['2001::', 23],
  ['2001:db8::', 32],
  ['2002::', 16],
  ['2620:4f:8000::', 48],
  ['3fff::', 20],
];

function listOf(ranges: readonly [string, number][], family: 'ipv4' | 'ipv6'): BlockList {
  const list = new BlockList();
  for (const [net, prefix] of ranges) list.addSubnet(net, prefix, family);
  return list;
}

const innerV4 = listOf(INNER_V4, 'ipv4');
const globalV6 = listOf([GLOBAL_V6], 'ipv6');
const innerV6 = listOf(INNER_V6, 'ipv6');

/**
 * Whether an address, as a resolver gives it, is one of the open internet. Private, loopback, link-local, unique-local,
 * carrier-grade, reserved and documentation ranges are not, nor is any IPv6 form that holds an IPv4 address, nor text
 * that is no address.
 */
export function isPublicAddress(address: string): boolean {
  const version = isIP(address);
  if (version === 4) return !innerV4.check(address, 'ipv4');
  if (version !== 6 || address.includes('%')) return false;
  return globalV6.check(address, 'ipv6') && !innerV6.check(address, 'ipv6');
}
