#include "pack/search/strategies.h"

const ks_strategy ks_strategies[] = {
    {"rows", 1, ks_pack_rows_suits, ks_pack_rows},
    {"fill", 1, ks_pack_fill_suits, ks_pack_fill},
    {"tiles", 6, ks_pack_tiles_suits, ks_pack_tiles},
    {"press", 19, ks_pack_press_suits, ks_pack_press},
    {"crowd", 3, ks_pack_crowd_suits, ks_pack_crowd},
    {"trade", 1, ks_pack_trade_suits, ks_pack_trade},
};
const int ks_n_strategies = sizeof ks_strategies / sizeof ks_strategies[0];
