// Script only improves: every page works without it.
import { ability } from "./ability";
import { alarm } from "./alarm";
import { chapters } from "./chapters";
import { find } from "./find";
import { grids } from "./grid";
import { hours } from "./hours";
import { keys } from "./keys";
import { pairing } from "./pairing";
import { submits } from "./submit";
import { unsent } from "./unsent";
import { working } from "./working";

ability();
alarm();
chapters();
find();
grids();
hours();
keys();
pairing();
submits();
unsent();
working();
