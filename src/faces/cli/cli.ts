/**
 * The command line: what each command and option is called, and which module runs it. A module is loaded when its command is given,
 * so that `--help` need not wait for the checker.
 */
import { Command, CommanderError, Option, type Argument } from "commander";
import { checkHelp } from "../../messages/ci.js";
import { commandHelp, commandRefusals } from "../../messages/cli.js";
import { deskHelp } from "../../messages/desk.js";
import { publishHelp } from "../../messages/publish.js";
import { CannotRun, type ExitCode } from "../node/exit.js";
import { version } from "../node/own-files.js";
import { note } from "../node/streams.js";
import { harmless, terminalOf } from "../node/terminal.js";

/** Runs what the words after `waterlore` say. Never throws; what went wrong is on standard error. */
export async function run(words: readonly string[]): Promise<ExitCode> {
  let exit: ExitCode = 0;
  const program = commandLine(words, (code) => void (exit = code));
  try {
    await program.parseAsync(words, { from: "user" });
    return exit;
  } catch (error) {
    // Commander has written its own message, or the help that was asked for.
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    note(error instanceof CannotRun ? error.message : commandRefusals.fault(error instanceof Error ? error.message : String(error)));
    return 2;
  }
}

function commandLine(words: readonly string[], done: (exit: ExitCode) => void): Command {
  const { options } = commandHelp;
  const program = new Command("waterlore").description(commandHelp.program.about).addHelpText("after", commandHelp.program.after);
  program
    .version(version(), "--version", commandHelp.program.version)
    .helpOption("-h, --help", commandHelp.program.help)
    .helpCommand(false);
  program.configureHelp({ subcommandTerm: (sub) => [sub.name(), ...sub.registeredArguments.map(shownAs)].join(" "), minWidthToWrap: 20 });
  program
    .showHelpAfterError(commandHelp.program.afterError)
    .exitOverride()
    .configureOutput({
      getOutHelpWidth: () => terminalOf(process.stdout).width,
      getErrHelpWidth: () => terminalOf(process.stderr).width,
      outputError: (message, write) => write(harmless(commandRefusals.commander(message))),
    });
  const command = (name: string, { about, after }: { readonly about: string; readonly after?: string }): Command => {
    const made = program.command(name).summary(about).description(sentence(about));
    return after === undefined ? made : made.addHelpText("after", after);
  };
  const stdinPath = (): Option => new Option("--stdin-path <name>", options.stdinPath);
  const on = (about = options.on): Option => new Option("--on <date>", about);
  const steps = (): Option => new Option("--steps <number>", options.steps);
  const config = (): Option => new Option("--config <file>", checkHelp.config);
  const format = (choices: readonly string[], about: string): Option =>
    new Option("--format <form>", about).choices(choices).default("text");

  command("check", commandHelp.check)
    .argument("[paths...]", commandHelp.check.paths)
    .addOption(format(["text", "json", "sarif", "junit", "github"], checkHelp.format))
    .addOption(new Option("--severity <lowest>", options.severity).choices(["error", "warning", "note"]))
    .option("--warnings <number>", checkHelp.warnings)
    .option("--coverage", options.coverage)
    .option("--days <file>", options.checkDays)
    .option("--fix", options.fix)
    .option("--baseline <file>", checkHelp.baseline)
    .option("--write-baseline", checkHelp.writeBaseline)
    .option("--watch", checkHelp.watch)
    .addOption(on())
    .addOption(steps())
    .addOption(config())
    .option("--cache-dir <folder>", checkHelp.cacheDir)
    .option("--no-cache", checkHelp.noCache)
    .addOption(stdinPath())
    .action(async (paths, given) => done(await (await import("./commands/check.js")).checkCommand(paths, given, words)));

  command("table", commandHelp.table)
    .argument("<book>", commandHelp.table.book)
    .addOption(format(["text", "json", "markdown", "csv", "sql"], options.tableFormat))
    .addOption(
      new Option("--pick <name>", options.pick).argParser((name, before: readonly string[] | undefined) => [...(before ?? []), name]),
    )
    .addOption(on())
    .addOption(steps())
    .addOption(config())
    .addOption(stdinPath())
    .action(async (book, given) => done(await (await import("./commands/table.js")).tableCommand(book, given)));

  command("answer", commandHelp.answer)
    .argument("<book>", commandHelp.table.book)
    .argument("[NAME=VALUE...]", commandHelp.answer.values)
    .option("--csv <file>", options.csv)
    .addOption(format(["text", "json", "csv"], options.answerFormat))
    .addOption(on(options.onAnswer))
    .addOption(steps())
    .addOption(config())
    .addOption(stdinPath())
    .action(async (book, values, given) => done(await (await import("./commands/answer.js")).answerCommand(book, values, given)));

  command("why", commandHelp.why)
    .argument("<book>", commandHelp.table.book)
    .argument("[NAME=VALUE...]", commandHelp.answer.values)
    .addOption(on(options.onAnswer))
    .addOption(steps())
    .addOption(config())
    .addOption(stdinPath())
    .action(async (book, values, given) => done(await (await import("./commands/why.js")).whyCommand(book, values, given)));

  command("compare", commandHelp.compare)
    .argument("<old>", commandHelp.compare.old)
    .argument("<new>", commandHelp.compare.new)
    .addOption(format(["text", "markdown", "json"], options.compareFormat))
    .addOption(on())
    .addOption(steps())
    .addOption(config())
    .action(async (old, now, given) => done(await (await import("./commands/compare.js")).compareCommand(old, now, given)));

  command("stock", commandHelp.stock)
    .argument("<book>", commandHelp.table.book)
    .argument("<list>", commandHelp.stock.list)
    .option("--days <file>", options.days)
    .addOption(format(["text", "markdown", "csv", "json"], options.stockFormat))
    .addOption(on())
    .addOption(steps())
    .addOption(config())
    .addOption(stdinPath())
    .action(async (book, list, given) => done(await (await import("./commands/stock.js")).stockCommand(book, list, given)));

  command("publish", publishHelp)
    .argument("<books...>", publishHelp.books)
    .requiredOption("--to <folder>", publishHelp.to)
    .option("--draft", publishHelp.draft)
    .option("--address <url>", publishHelp.address)
    .option("--since <edition>", publishHelp.since)
    .addOption(on())
    .addOption(steps())
    .addOption(config())
    .action(async (paths, given) => done(await (await import("./commands/publish.js")).publishCommand(paths, given)));

  command("desk", deskHelp)
    .argument("[folder]", deskHelp.folder)
    .option("--port <number>", deskHelp.port)
    .option("--no-open", deskHelp.noOpen)
    .action(async (folder, given) => done(await (await import("./commands/desk.js")).deskCommand(folder, given)));

  command("format", commandHelp.format)
    .argument("<paths...>", commandHelp.format.paths)
    .option("--check", options.formatCheck)
    .addOption(stdinPath())
    .action(async (paths, given) => done(await (await import("./commands/format.js")).formatCommand(paths, given)));

  command("new", commandHelp.new)
    .argument("<file>", commandHelp.new.file)
    .action(async (file) => done((await import("./commands/new.js")).newCommand(file)));

  command("hint", commandHelp.hint)
    .argument("[code]", commandHelp.hint.code)
    .action(async (code) => done((await import("./commands/hint.js")).hintCommand(code)));

  // The server itself looks for the way to talk among the words.
  command("language-server", commandHelp.languageServer)
    .requiredOption("--stdio", options.stdio)
    .action(async () => void (await import("../server/server-node.js")));
  return program;
}

function sentence(about: string): string {
  return `${about.replace(/^./, (first) => first.toUpperCase())}.`;
}

/** `PATHS…` */
function shownAs(argument: Argument): string {
  return argument.name().toUpperCase() + (argument.variadic ? "…" : "");
}
