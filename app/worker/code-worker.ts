import { type CodeTasks, readCode } from "./read-code.ts";
import { serveTasks } from "./serve-tasks.ts";

serveTasks<CodeTasks>({ read: readCode });
