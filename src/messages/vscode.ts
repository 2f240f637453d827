/** What the extension for VS Code says: in its manifest, its questions, and beside its table. */

export const extensionWords = {
  name: "Waterlore",
  language: "Lore",
  description:
    "Write a tackle shop's rules of thumb as they are said, see exactly where they collide or say nothing, and keep one recommendation table beside them.",
  virtual: "Outside a browser, a book that another one builds on is read only while it is open.",
  commands: {
    showTable: "Show the recommendation table beside the book",
    explain: "Explain an answer",
    settleNext: "Settle what is next",
    lastCommit: "Show what the edits since the last commit change",
    newBook: "New book",
    restart: "Check afresh",
  },
  /** In the status bar. */
  standing: {
    name: "How the book stands",
    working: "$(loading~spin) Waterlore",
    writing: "$(edit) writing",
    clean: (answered: string | undefined) => `$(check) ${answered === undefined ? "nothing to settle" : `${answered} answered`}`,
    open: (answered: string | undefined, open: number, next: string) =>
      `$(circle-large-outline) ${answered === undefined ? "" : `${answered} answered, `}${open} to settle: ${next}`,
    picks: (picks: readonly { readonly label: string; readonly answered: string }[]) =>
      picks.map(({ label, answered }) => `- ${label}: ${answered} answered`).join("\n"),
    settle: "Settle this next",
    spoken: (answered: string | undefined, open: number) =>
      `Waterlore: ${answered === undefined ? "" : `${answered} answered, `}${open === 0 ? "nothing" : open} to settle`,
  },
  /** In the test explorer. */
  promises: {
    name: "Promises",
    check: "Check promises",
    fails: (example: string) => `It does not hold, for example on this day: ${example}.`,
    open: "There was not time enough to tell whether it holds.",
  },
  lastCommit: {
    pageOf: (book: string) => `Since the last commit, ${book}`,
    noFolder: "This book is in no folder that is open here. Open its folder, and ask again.",
    noPrograms: "Git cannot be asked from here: this takes VS Code on a computer with git.",
  },
  task: {
    name: "check",
    detail: "Checks all books of the folder, as `waterlore check` does.",
    paths: "Books, folders of books, or patterns. If there are none: what waterlore.json names, or else the whole folder.",
    label: "Findings of waterlore check",
  },
  newBook: {
    prompt: "What is the book called? Its file is named after it.",
  },
  settings: {
    day: "The day to check books for, such as `2027-04-15`: what is out of date on that day is reported. Empty: today.",
    dayPattern: "Write the day as year, month and day: 2027-04-15.",
    steps: "How long to try before saying what is not decided, in steps of work. More steps take longer on a big book.",
    lenses: "Say above each pattern how much it decides, and above each promise whether it holds.",
    inlayHints: "Show beside each title what share of all conditions a pattern decides.",
    trace: "What passes between the editor and the checker is written to the output panel.",
    traces: ["Nothing.", "Only what was asked and answered.", "Everything, with all contents."],
  },
  walkthrough: {
    title: "Your first book",
    description: "Write rules of thumb, see where they collide, settle it, and read the one table that says the same.",
    steps: [
      {
        id: "write",
        title: "Write the rules down",
        text: "A book holds what a customer can tell you, what you recommend, and one rule of thumb at a time, said as you say it across the counter.\n[New book](command:waterlore.newBook)\nIt starts with a small book that has nothing wrong with it.",
        alt: "A book with one rule: mud wants a dark bait",
        done: ["onCommand:waterlore.newBook"],
      },
      {
        id: "collide",
        title: "See where two rules collide",
        text: "Take the line that starts with `beats` out of the new book. Two rules now disagree under a dock in clear water, and both are underlined. Hold the pointer over one to read when it happens, with a day you can picture.\n[Show the list of problems](command:workbench.actions.view.problems)",
        alt: "Two rules that overlap; where they do, it is not said which of them wins",
        done: ["onCommand:workbench.actions.view.problems"],
      },
      {
        id: "settle",
        title: "Settle it",
        text: "Put the cursor on the underlined title and press `Ctrl+.` (`Cmd+.` on a Mac), or click the light bulb. It offers the ways to settle the matter; each of them makes the problem go away.\n[Show the fixes](command:editor.action.quickFix)",
        alt: "The same two rules; one of them now lies on top of the other",
        done: ["onCommand:editor.action.quickFix"],
      },
      {
        id: "table",
        title: "Keep the table beside the book",
        text: "The table says the same as all your rules together, and changes as you type. Choose a row to go to the rule that decided it.\n[Show the table](command:waterlore.showTable)",
        alt: "A book on the left, on the right the table that is made from it",
        done: ["onCommand:waterlore.showTable"],
      },
      {
        id: "ask",
        title: "Ask it as a customer would",
        text: "It asks one thing at a time, what settles most comes first, and “I don’t know” is a good reply. At the end it says what to tie on, and why.\n[Ask](command:waterlore.explain)",
        alt: "Three replies at the counter, one of them unknown, lead to one bait",
        done: ["onCommand:waterlore.explain"],
      },
    ],
  },

  /** The table beside the book. */
  table: {
    tab: (book: string) => `Table of ${book}`,
    heading: "Table",
    of: "Pick",
    working: "Working it out…",
    behind: "Working it out anew…",
    noPicks: "This book recommends nothing yet: it has no `pick`.",
    decided: (pick: string) => `${pick}, and what decided it`,
    go: (pattern: string) => `Go to “${pattern}”`,
    rows: (count: number, of: number) => (count === of ? (of === 1 ? "1 row." : `${of} rows.`) : `${count} of ${of} rows.`),
    marked: (count: number, pattern: string) =>
      count === 0
        ? `None of them comes from “${pattern}”.`
        : `▸ ${count === 1 ? "1 of them comes" : `${count} of them come`} from “${pattern}”.`,
    find: "Find",
    findHint: "words in a row",
    clear: "Show all rows",
    /** In the head of a column: rows whatever the value. */
    any: "all",
    narrow: (column: string) => `Only rows for ${column}`,
    keys: "Arrow keys move from row to row, Enter goes to the pattern that decided.",
    /** Beside the words of what is no plain answer, so that it can be found at a glance without telling colors apart. */
    signs: { gap: "○", conflict: "⚡", "toss-up": "≈", waiting: "…" } as Readonly<Record<string, string>>,
    mind: "Mind",
  },

  /** Asking for an answer, one condition at a time. */
  ask: {
    choose: (known: number, typed: string | undefined) =>
      `${known === 0 ? "" : `${known} known. `}Choose${typed === undefined ? " one" : `, or type ${typed}`}.`,
    several: "Several of these…",
    unknown: "I don’t know",
    unknownDetail: "nothing is taken for it",
    other: "Something else first…",
    enough: "That is all I know: explain now",
    pickOther: "What do you know?",
    pickSeveral: "Check all that are there, then press Enter.",
    noBook: "Open a book first: a file whose name ends in .lore.",
  },

  /** The page that explains an answer. */
  answer: {
    tab: (book: string) => `Answer from ${book}`,
    heading: "Answer",
    recommended: "What to tie on",
    mind: "Mind",
    known: "What is known",
    knownHint: "Change it here, and the answer follows.",
    likeliest: (answer: string) => `most often ${answer}`,
    unknown: "not known",
    notWith: (reply: string) => `${reply} (not with the rest)`,
    forget: "Forget all of it",
    why: "Why",
    aside: (count: number) => (count === 1 ? "What does not count here (1)" : `What does not count here (${count})`),
    others: (count: number) => `What is only judged, and what there is nothing to choose of (${count})`,
    go: (pattern: string) => `Go to “${pattern}”`,
    working: "Working it out…",
    done: "This is the answer for what is known.",
  },
} as const;
