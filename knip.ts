/** What nothing uses; with `--production`, what only tests use. */
export default ({ production = false }: { readonly production?: boolean }) => ({
  entry: [
    "src/{faces/build/build-main,faces/cli/{main,check-main,compare-main},faces/reference-main,faces/prettier-plugin,index,publish/lookup/lookup,publish/page/main}.ts!",
    "src/faces/server/server-{node,worker}.ts!",
    "src/faces/desk/page/main.ts!",
    "src/faces/vscode/{extension,extension-web,page/{answer,table},vsix-main}.ts!",
    "test/{bench/bench,publish/harness/page}.ts",
  ],
  project: ["{src,grammar}/**/*.ts!", "test/**/*.ts"],
  // A test may ask for a part by name that only its own file uses besides.
  ignoreExportsUsedInFile: production,
  // The nodes of a tree and the parts of a model are a contract, used or not.
  ignoreIssues: { "src/{model/model,syntax/tree}.ts": ["types", "nsTypes"] },
  ignoreDependencies: [
    // It is there in the editor; the package has its types.
    "vscode",
    // Asked for by the path of a file.
    "@microsoft/jest-sarif",
    "@sparticuz/chromium",
    "kuzzle-espresso-logic-minimizer",
    "sql.js",
    "vega-datasets",
  ],
});
