/** The projects that test what is built build it first, and again before each rerun; what is the same is left where it is. */
import type { TestProject } from "vitest/node";
import { build } from "../src/faces/build/build.js";

export default async function (project: TestProject): Promise<void> {
  await build();
  // Who is in the middle of a change goes on watching.
  project.onTestsRerun(() => build().catch((problem: unknown) => console.error(problem instanceof Error ? problem.message : problem)));
}
