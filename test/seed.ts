/** What fast-check draws is drawn from one seed, so that a run that was green stays so until something changes. */
import * as fc from "fast-check";

fc.configureGlobal({ seed: Number(process.env["LAW_SEED"] ?? 20270415) });
