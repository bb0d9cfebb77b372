import { type ForceTasks, forceTasks } from "./force-tasks.ts";
import { serveTasks } from "./serve-tasks.ts";

serveTasks<ForceTasks>(forceTasks());
