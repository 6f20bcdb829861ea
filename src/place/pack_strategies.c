#include "place/pack_strategies.h"

const ks_strategy ks_strategies[] = {
    {"fill", ks_pack_fill_suits, ks_pack_fill},
    {"trade", ks_pack_trade_suits, ks_pack_trade},
};
const int ks_n_strategies = sizeof ks_strategies / sizeof ks_strategies[0];
