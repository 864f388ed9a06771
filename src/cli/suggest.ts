import { type Command, type CommanderError, Help } from "commander";
import { findNearest } from "../read/nearest.ts";

/** What was probably meant by a call that commander refused, as a sentence; null where nothing is near. */
export function suggestion(
  { code, message }: Pick<CommanderError, "code" | "message">,
  program: Command,
): string | null {
  const written = / argument '([^']*)' is invalid/.exec(message)?.[1] ?? /'([^']*)'/.exec(message)?.[1] ?? "";
  const words = known(code, message, program);
  // What is missing may be there, mistyped: the missing one is told first.
  const mistyped =
    code === MISSING ? program.args.filter((arg) => arg.startsWith("--") && !words.includes(bare(arg))) : [written];
  const [near] = mistyped.flatMap((word) => nearestOf(bare(word), words) ?? []);
  return near === undefined ? null : `Did you mean \`${near}\`?`;
}

const MISSING = "commander.missingMandatoryOptionValue";
/** An option without its value. */
const bare = (written: string): string => written.replace(/=.*/, "");

/** The words that could have stood there. */
function known(code: string, message: string, program: Command): readonly string[] {
  const called = program.commands.find((command) => command.name() === program.args[0]) ?? program;
  switch (code) {
    case "commander.unknownCommand":
      return program.commands.map((command) => command.name());
    case MISSING:
    case "commander.unknownOption":
      return [called, program].flatMap((command) =>
        new Help().visibleOptions(command).flatMap(({ long }) => long ?? []),
      );
    case "commander.invalidArgument":
      return /Allowed choices are (.*)\.$/.exec(message)?.[1]?.split(", ") ?? [];
    default:
      return [];
  }
}

const LEAST_PREFIX = 3;

/** The only one that begins so, else the nearest. */
function nearestOf(written: string, words: readonly string[]): string | undefined {
  const letters = written.replace(/^-+/, "");
  const beginning = letters.length < LEAST_PREFIX ? [] : words.filter((word) => word.startsWith(written));
  return beginning.length === 1 ? beginning[0] : findNearest(written, words);
}
