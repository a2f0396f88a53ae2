export { moveCarcass } from './rules/carcass';
export { assignSuffixes, moveCustody } from './rules/materials';
