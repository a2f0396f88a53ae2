export {
  advanceMaterial,
  changeCustody,
  createMaterial,
  labelOf,
  moveMaterial,
  placePath,
} from './materials';
