/** The schemas that ship, to hold files against when they are read. */
import type { ValidateFunction } from "ajv";
import { ownFile } from "./own-files.js";

/** Tells whether a value fits `src/schema/NAME.json`; its `errors` say all that does not. The validator is loaded when first needed. */
export async function validatorOf<T>(name: string): Promise<ValidateFunction<T>> {
  const { Ajv2020 } = await import("ajv/dist/2020.js");
  const schema = ownFile(`src/schema/${name}.json`);
  if ("problem" in schema) throw new Error(schema.problem);
  return new Ajv2020({ allErrors: true }).compile<T>(JSON.parse(schema.text));
}
