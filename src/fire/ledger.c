#include "fire/ledger.h"

#include <math.h>

#define J_PER_KWH 3.6e6
#define QUARTER_HOUR_S 900.0

void ks_ledger_start(ks_ledger *ledger, const ks_network *net)
{
    *ledger = (ks_ledger){0};
    ledger->start_chemistry_j = ks_network_chemistry_j(net);
    for (int kind = 0; kind < KS_NODE_KINDS; kind++)
        ledger->start_j[kind] = ks_network_stored_j(net, (ks_node_kind)kind);
}

static double stored_j(const ks_ledger *ledger, const ks_network *net, ks_node_kind kind)
{
    return ks_network_stored_j(net, kind) - ledger->start_j[kind];
}

static double chemistry_j(const ks_ledger *ledger, const ks_network *net)
{
    return ks_network_chemistry_j(net) - ledger->start_chemistry_j;
}

static void meter(ks_ledger *ledger, double joule, double dt_s)
{
    ledger->block_j += joule;
    ledger->block_s += dt_s;
    if (ledger->block_s < QUARTER_HOUR_S)
        return;
    ledger->demand_w = fmax(ledger->demand_w, ledger->block_j / ledger->block_s);
    ledger->block_j = ledger->block_s = 0;
}

void ks_ledger_book(ks_ledger *ledger, const ks_network *net, double dt_s, double power_w,
                    double flue_w)
{
    ledger->in_j += (power_w + flue_w) * dt_s;
    ledger->flue_j += flue_w * dt_s;
    ledger->casing_j += ks_network_casing_w(net) * dt_s;
    ledger->vent_j += ks_network_vent_w(net) * dt_s;
    meter(ledger, (power_w + flue_w) * dt_s, dt_s);
    double out_j = ledger->casing_j + ledger->vent_j + ledger->flue_j + chemistry_j(ledger, net);
    for (int kind = 0; kind < KS_NODE_KINDS; kind++)
        out_j += stored_j(ledger, net, (ks_node_kind)kind);
    ledger->worst_j = fmax(ledger->worst_j, fabs(ledger->in_j - out_j));
}

ks_energy ks_ledger_energy(const ks_ledger *ledger, const ks_network *net)
{
    return (ks_energy){.total = ledger->in_j / J_PER_KWH,
                       .ware = stored_j(ledger, net, KS_WARE_NODE) / J_PER_KWH,
                       .furniture = stored_j(ledger, net, KS_FURNITURE_NODE) / J_PER_KWH,
                       .lining = stored_j(ledger, net, KS_FACE_NODE) / J_PER_KWH,
                       .casing = ledger->casing_j / J_PER_KWH,
                       .vent = ledger->vent_j / J_PER_KWH,
                       .chemistry = chemistry_j(ledger, net) / J_PER_KWH,
                       .flue = ledger->flue_j / J_PER_KWH};
}
