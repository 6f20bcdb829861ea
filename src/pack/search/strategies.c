#include "pack/search/layout_search.h"

/* In the order in which they take their turns. To add one: its file, a name here, and its file in
 * the room's meson.build. */
#define STRATEGIES(each) each(rows) each(fill) each(tiles) each(hop) each(target) each(swap)

#define DECLARED(name) extern const ks_strategy ks_strategy_##name;
#define LISTED(name) &ks_strategy_##name,

STRATEGIES(DECLARED)

const ks_strategy *const ks_strategies[] = {STRATEGIES(LISTED)};
const int ks_n_strategies = sizeof ks_strategies / sizeof ks_strategies[0];
