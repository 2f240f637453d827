/**
 * The extension's own `package.json`, written when it is packed. The package at the top is npm's; what VS Code reads of an extension
 * stands here, its sentences in `messages/vscode.ts`, its colors and typing in `grammar/editors/`.
 */
import { STEPS } from "../../analysis/analyse.js";
import { extensionWords } from "../../messages/vscode.js";
import { answerView, commands, extensionId, language, problemMatcher, tableView, taskType } from "./names.js";

/** `version`, `license` and the like are those of the package. */
export interface PackageFacts {
  readonly version: string;
  readonly license: string;
}

const inLore = `editorLangId == ${language}`;
const [publisher, name] = extensionId.split(".");

export function manifest({ version, license }: PackageFacts): Readonly<Record<string, unknown>> {
  return {
    name,
    publisher,
    version,
    license,
    displayName: extensionWords.name,
    description: extensionWords.description,
    icon: "media/icon.png",
    galleryBanner: { color: "#12383f", theme: "dark" },
    categories: ["Programming Languages", "Snippets", "Linters", "Formatters"],
    keywords: ["lore", "waterlore"],
    engines: { vscode: "^1.91.0" },
    files: ["**"],
    main: "./extension.js",
    browser: "./extension-web.js",
    activationEvents: [
      `onLanguage:${language}`,
      "workspaceContains:**/*.lore",
      `onWebviewPanel:${tableView}`,
      `onWebviewPanel:${answerView}`,
      `onTaskType:${taskType}`,
    ],
    capabilities: {
      untrustedWorkspaces: { supported: true },
      virtualWorkspaces: { supported: "limited", description: extensionWords.virtual },
    },
    contributes: {
      languages: [
        {
          id: language,
          aliases: [extensionWords.language, language],
          extensions: [".lore"],
          configuration: "./grammar/language-configuration.json",
          icon: { light: "./media/book-light.svg", dark: "./media/book-dark.svg" },
        },
      ],
      grammars: [
        { language, scopeName: "source.lore", path: "./grammar/lore.tmLanguage.json" },
        {
          scopeName: "markdown.lore.codeblock",
          path: "./grammar/lore-in-markdown.tmLanguage.json",
          injectTo: ["text.html.markdown"],
          embeddedLanguages: { "meta.embedded.block.lore": language },
        },
      ],
      // A word that compares is colored like `is`.
      semanticTokenScopes: [{ language, scopes: { operator: ["keyword.operator.expression.relation.lore"] } }],
      snippets: [{ language, path: "./grammar/snippets.json" }],
      jsonValidation: [{ fileMatch: "waterlore.json", url: "./src/schema/configuration.json" }],
      taskDefinitions: [
        {
          type: taskType,
          properties: { paths: { type: "array", items: { type: "string" }, description: extensionWords.task.paths } },
        },
      ],
      problemMatchers: [matcher],
      commands: Object.values(commands).map(({ id, title, icon }) => ({ command: id, title, icon, category: extensionWords.name })),
      menus: {
        commandPalette: [commands.showTable, commands.explain, commands.settleNext, commands.lastCommit].map(({ id }) => ({
          command: id,
          when: inLore,
        })),
        "editor/title": [
          { command: commands.showTable.id, when: inLore, group: "navigation@1" },
          { command: commands.explain.id, when: inLore, group: "navigation@2" },
        ],
        "file/newFile": [{ command: commands.newBook.id }],
        "explorer/context": [{ command: commands.newBook.id, when: "explorerResourceIsFolder", group: "navigation@3" }],
      },
      configuration: { title: extensionWords.name, properties: settings },
      configurationDefaults: {
        [`[${language}]`]: {
          "editor.defaultFormatter": extensionId,
          "editor.tabSize": 2,
          "editor.insertSpaces": true,
          "editor.formatOnSave": true,
          "editor.wordBasedSuggestions": "off",
          // Enter ends the line, whatever is being suggested; Tab takes a suggestion.
          "editor.acceptSuggestionOnEnter": "off",
          "editor.acceptSuggestionOnCommitCharacter": false,
        },
      },
      walkthroughs: [walkthrough()],
    },
  };
}

/** The report of `waterlore check`: a headline, and below it the place. */
const matcher = {
  name: problemMatcher,
  label: extensionWords.task.label,
  owner: problemMatcher,
  source: problemMatcher,
  fileLocation: ["autoDetect", "${workspaceFolder}"],
  pattern: [
    { regexp: "^(error|warning|note): (.+) \\[([a-z-]+)\\]$", severity: 1, message: 2, code: 3 },
    { regexp: "^ {2}(\\S.*):(\\d+):(\\d+)$", file: 1, line: 2, column: 3 },
  ],
};

/** What the server is asked to do differently; the names after `waterlore.` are those the server reads. */
const settings = {
  "waterlore.day": {
    type: "string",
    pattern: "^(\\d{4}-\\d{2}-\\d{2})?$",
    patternErrorMessage: extensionWords.settings.dayPattern,
    default: "",
    markdownDescription: extensionWords.settings.day,
    order: 1,
  },
  "waterlore.lenses": { type: "boolean", default: true, markdownDescription: extensionWords.settings.lenses, order: 2 },
  "waterlore.inlayHints": { type: "boolean", default: false, markdownDescription: extensionWords.settings.inlayHints, order: 3 },
  "waterlore.steps": { type: "integer", minimum: 1000, default: STEPS, markdownDescription: extensionWords.settings.steps, order: 4 },
  "waterlore.trace.server": {
    type: "string",
    enum: ["off", "messages", "verbose"],
    enumDescriptions: extensionWords.settings.traces,
    default: "off",
    description: extensionWords.settings.trace,
    scope: "window",
    order: 5,
  },
} as const;

function walkthrough(): Readonly<Record<string, unknown>> {
  return {
    id: "firstBook",
    title: extensionWords.walkthrough.title,
    description: extensionWords.walkthrough.description,
    steps: extensionWords.walkthrough.steps.map(({ id, title, text, alt, done }) => ({
      id,
      title,
      description: text,
      media: { svg: `media/${id}.svg`, altText: alt },
      completionEvents: done,
    })),
  };
}
