// Script only improves: every page works without it.
import { alarm } from "./alarm";
import { find } from "./find";
import { grids } from "./grid";
import { hours } from "./hours";
import { keys } from "./keys";
import { submits } from "./submit";
import { unsent } from "./unsent";

alarm();
find();
grids();
hours();
keys();
submits();
unsent();
