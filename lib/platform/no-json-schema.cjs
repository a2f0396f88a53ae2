/**
 * Stands in browsers for zod's makers of JSON Schema (see next.config.mjs). Every schema names them, so that they would
 * come with each page, and only the server uses them: for the description of the API. CommonJS, because schemas also
 * name forty makers of parts, none of which is ever called without these.
 */
const refuse = () => {
  throw new Error('JSON Schema is made on the server only.');
};

module.exports = {
  createToJSONSchemaMethod: () => refuse,
  createStandardJSONSchemaMethod: () => refuse,
  toJSONSchema: refuse,
};
