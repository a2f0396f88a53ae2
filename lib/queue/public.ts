export { applyCarcassAct } from './carcass';
export { moveCarcass } from './rules/carcass';
export { assignSuffixes, moveCustody } from './rules/materials';
export { readQueueSettings } from './settings';
