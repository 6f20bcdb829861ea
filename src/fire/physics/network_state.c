#include "fire/physics/network_state.h"

#include <string.h>

static int stack_nodes(const ks_network *net)
{
    int n = 0;
    for (int i = 0; i < net->n_nodes; i++)
        n += net->nodes[i].stack ? net->nodes[i].stack->n : 0;
    return n;
}

void ks_network_keep(const ks_network *net, ks_arena *arena, ks_network_state *state)
{
    if (!state->nodes) {
        *state = (ks_network_state){.nodes = KS_TAKE(arena, net->n_nodes, ks_node),
                                    .stack_c = KS_TAKE(arena, 2 * stack_nodes(net), double),
                                    .drying = KS_TAKE(arena, net->n_nodes, ks_drying)};
    }
    double *to = state->stack_c;
    for (int i = 0; i < net->n_nodes; i++) {
        const ks_node *node = &net->nodes[i];
        state->nodes[i] = *node;
        if (node->drying)
            state->drying[i] = *node->drying;
        if (!node->stack)
            continue;
        size_t n = (size_t)node->stack->n;
        memcpy(to, node->stack->temp_c, n * sizeof *to);
        memcpy(to + n, node->stack->old_c, n * sizeof *to);
        to += 2 * n;
    }
}

void ks_network_restore(ks_network *net, const ks_network_state *state)
{
    const double *from = state->stack_c;
    for (int i = 0; i < net->n_nodes; i++) {
        ks_node *node = &net->nodes[i];
        *node = state->nodes[i];
        if (node->drying)
            *node->drying = state->drying[i];
        if (!node->stack)
            continue;
        size_t n = (size_t)node->stack->n;
        memcpy(node->stack->temp_c, from, n * sizeof *from);
        memcpy(node->stack->old_c, from + n, n * sizeof *from);
        from += 2 * n;
    }
}
