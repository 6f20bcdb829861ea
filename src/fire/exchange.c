#include "fire/network_build.h"

#include <math.h>

/* Radiation between two grey surfaces that face each other: 1 / (1/e1 + 1/e2 - 1). */
#define CLAY_EMISSIVITY 0.85
#define LINING_EMISSIVITY 0.70
#define CLAY_TO_CLAY (1 / (2 / CLAY_EMISSIVITY - 1))
#define CLAY_TO_LINING (1 / (1 / CLAY_EMISSIVITY + 1 / LINING_EMISSIVITY - 1))

/* Natural convection inside, W/(m2 K): order of McAdams' laws at 10 to 50 K; counts only while
 * cool. */
#define INSIDE_FILM 5.0
#define STIRRING 10.0 /* air that rises and sinks past the rims of shelves */

static void add_link(ks_network_builder *b, int from, int to, double radiant_m2, double plain_w_k)
{
    ks_network *net = &b->model->net;
    if (from < 0 || to < 0 || !(radiant_m2 > 0 || plain_w_k > 0))
        return;
    net->links = KS_GROW(b->arena, net->links, net->n_links, &b->links_room, ks_link);
    net->links[net->n_links++] = (ks_link){from, to, radiant_m2, plain_w_k};
}

/* Two surfaces of `area_m2` in sight of each other, with air between. */
static void face_each_other(ks_network_builder *b, int from, int to, double area_m2, double factor)
{
    add_link(b, from, to, area_m2 * factor, area_m2 * INSIDE_FILM);
}

/* Part of a ring that pieces standing about at random stand in the way of: few pieces take in heat
 * with all their upright surface, pi times the silhouette; many shade each other. */
static double stop(const ks_ware_heat *ware, int node, double ring_m2)
{
    return node < 0 ? 0 : 1 - exp(-PI * ware->upright_m2 / ring_m2);
}

static void link_round_wall(ks_network_builder *b, int i)
{
    const ks_load_level *level = &b->parts->load->levels[i];
    const ks_level_nodes *nodes = &b->model->levels[i];
    double ring_m2 = b->parts->load->perimeter_m * level->share * (level->to_m - level->from_m);
    double inner_m2 = 0.6 * ring_m2;
    double by_edge = stop(&level->edge, nodes->edge, ring_m2);
    double by_middle = stop(&level->middle, nodes->middle, inner_m2);
    double through = (1 - by_edge) * (1 - by_middle) * ring_m2 +
                     level->shelf_thickness_m * b->parts->load->perimeter_m * level->share;
    face_each_other(b, nodes->air, nodes->face, ring_m2, LINING_EMISSIVITY);
    face_each_other(b, nodes->air, nodes->edge, by_edge * ring_m2, CLAY_TO_LINING);
    face_each_other(b, nodes->air, nodes->middle, (1 - by_edge) * by_middle * inner_m2,
                    CLAY_TO_LINING);
    face_each_other(b, nodes->air, nodes->shelf, through, CLAY_TO_LINING);
    face_each_other(b, nodes->edge, nodes->middle, by_edge * by_middle * inner_m2, CLAY_TO_CLAY);
}

/* Edge and middle ware of level i and a broad surface under or over it, shared by ground. */
static void link_ground(ks_network_builder *b, int i, int surface, double area_m2, double factor)
{
    const ks_load_level *level = &b->parts->load->levels[i];
    const ks_level_nodes *nodes = &b->model->levels[i];
    double edge = nodes->edge < 0 ? 0 : level->edge.plan_m2;
    double middle = nodes->middle < 0 ? 0 : level->middle.plan_m2;
    if (edge + middle <= 0)
        return;
    face_each_other(b, nodes->edge, surface, area_m2 * edge / (edge + middle), factor);
    face_each_other(b, nodes->middle, surface, area_m2 * middle / (edge + middle), factor);
}

static double ground_m2(const ks_network_builder *b, int i)
{
    return b->parts->load->area_m2 * b->parts->load->levels[i].share;
}

/* Around the shelf that parts two levels. */
static double ring_open_m2(const ks_network_builder *b, int i, int over)
{
    double area_m2 = fmin(ground_m2(b, i), ground_m2(b, over));
    return fmax(area_m2 - b->parts->load->levels[over].shelf_m2, 0.05 * area_m2);
}

static void link_over(ks_network_builder *b, int i, int over)
{
    const ks_level_nodes *nodes = b->model->levels;
    double open_m2 = ring_open_m2(b, i, over);
    add_link(b, nodes[i].air, nodes[over].air, open_m2, open_m2 * STIRRING);
    link_ground(b, i, nodes[over].shelf, b->parts->load->levels[over].shelf_m2, CLAY_TO_CLAY);
}

static void link_ends(ks_network_builder *b, int i)
{
    const ks_load_level *level = &b->parts->load->levels[i];
    const ks_level_nodes *nodes = &b->model->levels[i];
    double ground = ground_m2(b, i);
    if (level->bottom) {
        double open_m2 = fmax(ground - level->shelf_m2, 0.05 * ground);
        face_each_other(b, nodes->air, b->model->floor, open_m2, LINING_EMISSIVITY);
        face_each_other(b, nodes->shelf, b->model->floor, ground - open_m2, CLAY_TO_LINING);
    }
    if (level->top) {
        double covered_m2 = fmin(level->edge.plan_m2 + level->middle.plan_m2, 0.8 * ground);
        face_each_other(b, nodes->air, b->model->lid, ground - covered_m2, LINING_EMISSIVITY);
        link_ground(b, i, b->model->lid, covered_m2, CLAY_TO_LINING);
    }
}

/* Levels of two bays at one height see each other across the seam. */
static void link_beside(ks_network_builder *b, int i, int k)
{
    const ks_load_level *p = &b->parts->load->levels[i], *q = &b->parts->load->levels[k];
    double common_m = fmin(p->to_m, q->to_m) - fmax(p->from_m, q->from_m);
    if (p->share >= 1 || q->share >= 1 || common_m <= 0)
        return;
    double seam_m2 = sqrt(b->parts->load->area_m2) * common_m;
    face_each_other(b, b->model->levels[i].air, b->model->levels[k].air, seam_m2, CLAY_TO_CLAY);
}

void ks_builder_link(ks_network_builder *b)
{
    const ks_heat_load *load = b->parts->load;
    for (int i = 0; i < load->n; i++) {
        link_round_wall(b, i);
        link_ground(b, i, b->model->levels[i].shelf, load->levels[i].shelf_m2, CLAY_TO_CLAY);
        link_ends(b, i);
        for (int k = 0; k < load->n; k++) {
            if (load->over[i * load->n + k])
                link_over(b, i, k);
            else if (k > i)
                link_beside(b, i, k);
        }
    }
}
