// The screens in the order of the way of the ware. Those that come `after` open up once there is something for them.
import { studio } from "./studio.js";
import { tr } from "./words.js";
import * as add from "./add.js";
import * as beside from "./beside.js";
import * as fire from "./fire.js";
import * as firing from "./firing.js";
import * as form from "./form.js";
import * as hand_in from "./hand_in.js";
import * as hands from "./hands.js";
import * as kiln from "./kiln.js";
import * as load from "./load.js";
import * as money from "./money.js";
import * as racks from "./racks.js";
import * as unpacking from "./unpacking.js";

const always = () => true;
const has_plan = () => Boolean(studio.plan);
const has_members = () => Boolean(studio.order && studio.order.members && studio.order.members.length);
const has_form = () => studio.rows.some((row) => row.setter || Math.max(row.width_mm, row.height_mm) >= 250);

const all = [
  { name: "racks", title: () => tr("The racks"), show: racks.show, is_there: always },
  { name: "add", title: () => tr("Add ware"), show: add.show, is_there: always },
  { name: "kiln", title: () => tr("My kiln"), show: kiln.show, is_there: always },
  { name: "firing", title: () => tr("This firing"), show: firing.show, is_there: always },
  { name: "load", title: () => tr("The load"), show: load.show, is_there: always },
  { name: "unpacking", title: () => tr("Unpacking"), show: unpacking.show, is_there: always },
  { name: "hand-in", title: () => tr("Hand-in"), show: hand_in.show, is_there: has_members, after: true },
  { name: "form", title: () => tr("The big form"), show: form.show, is_there: has_form, after: true },
  { name: "hands", title: () => tr("Hands in the kiln"), show: hands.show, is_there: has_plan, after: true },
  { name: "fire", title: () => tr("Fire"), show: fire.show, is_there: has_plan, after: true },
  { name: "beside", title: () => tr("At the kiln"), show: beside.show, is_there: has_plan, after: true },
  { name: "money", title: () => tr("The money"), show: money.show, is_there: has_plan, after: true },
];

export function screens() {
  return all;
}
