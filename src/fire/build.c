#include "fire/build.h"

#include <math.h>
#include <string.h>

#define PI 3.14159265358979323846

/* Radiation between two grey surfaces that face each other: 1 / (1/e1 + 1/e2 - 1). */
#define CLAY_EMISSIVITY 0.85
#define LINING_EMISSIVITY 0.70
#define CLAY_TO_CLAY (1 / (2 / CLAY_EMISSIVITY - 1))
#define CLAY_TO_LINING (1 / (1 / CLAY_EMISSIVITY + 1 / LINING_EMISSIVITY - 1))

/* Natural convection inside, W/(m2 K): order of McAdams' laws at 10 to 50 K; counts only while cool. */
#define INSIDE_FILM 5.0
#define STIRRING 10.0 /* air that rises and sinks past the rims of shelves */

#define WIRE_KG_PER_KW 0.35 /* common practice, no source */
#define EDGE_SHAPE 0.54 /* W/K per W/(m K) and metre of edge: Langmuir; Incropera table 4.1, from memory */

typedef struct {
    const ks_model_parts *parts;
    ks_arena *arena;
    ks_fired_model *model;
    ks_error *err;
    int links_room;
} builder;

static int add_node(builder *b, ks_node_kind kind)
{
    ks_network *net = &b->model->net;
    double room_c = b->parts->options->room_c;
    net->nodes[net->n_nodes] =
        (ks_node){.kind = kind, .temp_c = room_c, .old_c = room_c, .highest_c = room_c};
    return net->n_nodes++;
}

static void add_link(builder *b, int from, int to, double radiant_m2, double plain_w_k)
{
    ks_network *net = &b->model->net;
    if (from < 0 || to < 0 || !(radiant_m2 > 0 || plain_w_k > 0))
        return;
    net->links = KS_GROW(b->arena, net->links, net->n_links, &b->links_room, ks_link);
    net->links[net->n_links++] = (ks_link){from, to, radiant_m2, plain_w_k};
}

/* Two surfaces of `area_m2` in sight of each other, with air between. */
static void face_each_other(builder *b, int from, int to, double area_m2, double factor)
{
    add_link(b, from, to, area_m2 * factor, area_m2 * INSIDE_FILM);
}

/* ---- linings */

static int cells_of(double thickness_m, int asked)
{
    int cells = asked > 0 ? asked : (int)ceil(thickness_m / 0.0065);
    return cells < 3 ? 3 : cells > 40 ? 40 : cells;
}

static ks_status layers_of(builder *b, const ks_lining *lining, ks_stack_layer *layers)
{
    for (int i = 0; i < lining->n_layers; i++) {
        const ks_layer *layer = &lining->layers[i];
        const ks_fire_material *row =
            ks_material_find(b->parts->options->materials, layer->material);
        if (!row || row->conductivity.n == 0)
            return ks_fail(b->err, KS_BAD_INPUT,
                           "lining: no material \"%s\" that can be one; `list materials` names them",
                           layer->material);
        ks_curve *curves = KS_TAKE(b->arena, 2, ks_curve);
        ks_curve_of_property(&row->conductivity, &curves[0]);
        ks_curve_of_property(&row->heat, &curves[1]);
        layers[i] = (ks_stack_layer){
            &curves[0], &curves[1], row->density_kg_m3, layer->thickness_mm * 1e-3,
            cells_of(layer->thickness_mm * 1e-3, b->parts->options->cells)};
    }
    return KS_OK;
}

enum { LAYERS_MOST = 6 };

/* A lining's layers and what they add up to. */
typedef struct {
    ks_stack_layer layers[LAYERS_MOST];
    int n;
    double thickness_m;
    const ks_curve *casing;
} built_lining;

static ks_status lining_of(builder *b, const ks_lining *lining, ks_film film, built_lining *out)
{
    if (lining->n_layers > LAYERS_MOST)
        return ks_fail(b->err, KS_BAD_INPUT, "lining: found %d layers; up to %d would do",
                       lining->n_layers, LAYERS_MOST);
    *out = (built_lining){.n = lining->n_layers};
    for (int i = 0; i < lining->n_layers; i++) {
        double mm = lining->layers[i].thickness_mm;
        if (!(mm >= 3 && mm <= 1000))
            return ks_fail(b->err, KS_BAD_INPUT,
                           "lining: found a layer of %g mm; 3 to 1000 mm would do", mm);
        out->thickness_m += mm * 1e-3;
    }
    ks_curve *casing = KS_TAKE(b->arena, 1, ks_curve);
    ks_stack_casing_curve(&film, casing);
    out->casing = casing;
    return layers_of(b, lining, out->layers);
}

/* Every metre of edge where two linings meet conducts as 0.54 m more of shape; half of it is
 * counted to either. */
static double with_edges(double edges_m, double thickness_m, double area_m2)
{
    return 1 + 0.5 * EDGE_SHAPE * edges_m * thickness_m / area_m2;
}

static int add_face(builder *b, const built_lining *lining, ks_stack_shape shape)
{
    int node = add_node(b, KS_FACE_NODE);
    const ks_slant *slant = &b->parts->slant;
    const ks_fire_options *options = b->parts->options;
    shape.store *= slant->store * options->store_factor * shape.conductance;
    shape.conductance *= slant->conductance * options->as_built;
    ks_stack *stack = KS_TAKE(b->arena, 1, ks_stack);
    ks_stack_build(lining->layers, lining->n, &shape, options->room_c, b->arena, stack);
    stack->casing_loss = lining->casing;
    b->model->net.nodes[node].stack = stack;
    return node;
}

static int add_flat_face(builder *b, const built_lining *lining)
{
    const ks_heat_load *load = b->parts->load;
    double t = lining->thickness_m;
    double outside_m2 = load->area_m2 + load->perimeter_m * t + PI * t * t;
    return add_face(b, lining,
                    (ks_stack_shape){load->area_m2, 0, outside_m2,
                                     with_edges(load->perimeter_m, t, load->area_m2), 1});
}

static int add_wall_face(builder *b, const built_lining *lining, const ks_load_level *level)
{
    const ks_heat_load *load = b->parts->load;
    double t = lining->thickness_m, height_m = (level->to_m - level->from_m) * level->share;
    double wall_m2 = load->perimeter_m * load->height_m;
    return add_face(b, lining,
                    (ks_stack_shape){load->perimeter_m * height_m, 2 * PI * height_m,
                                     (load->perimeter_m + 2 * PI * t) * height_m,
                                     with_edges(2 * load->perimeter_m, t, wall_m2), 1});
}

/* ---- what stands inside */

static const ks_curve *heat_curve(builder *b, const char *material)
{
    const ks_fire_material *row = ks_material_find(b->parts->options->materials, material);
    if (!row || row->heat.n == 0)
        row = ks_material_find(b->parts->options->materials, "cordierite");
    ks_curve *curve = KS_TAKE(b->arena, 1, ks_curve);
    ks_curve_of_property(&row->heat, curve);
    return curve;
}

static int add_ware(builder *b, const ks_ware_heat *ware)
{
    double kg = ware->fired_kg * b->parts->slant.ware;
    if (!(kg > 1e-4))
        return -1;
    int node = add_node(b, KS_WARE_NODE);
    ks_curve *store = KS_TAKE(b->arena, 1, ks_curve);
    ks_curve_add(store, kg, heat_curve(b, "clay"));
    ks_chemistry *chemistry = KS_TAKE(b->arena, 1, ks_chemistry);
    *chemistry = ks_ware_chemistry(ware);
    for (int i = 0; i < chemistry->n; i++)
        chemistry->changes[i].joule *= b->parts->slant.ware;
    b->model->net.nodes[node].store = store;
    b->model->net.nodes[node].chemistry = chemistry;
    return node;
}

static int add_furniture(builder *b, const ks_load_level *level)
{
    if (!(ks_level_furniture_kg(level) > 1e-3))
        return -1;
    int node = add_node(b, KS_FURNITURE_NODE);
    ks_curve *store = KS_TAKE(b->arena, 1, ks_curve);
    for (int i = 0; i < level->n_furniture; i++)
        ks_curve_add(store, level->furniture[i].kg * b->parts->slant.furniture,
                     heat_curve(b, level->furniture[i].material));
    b->model->net.nodes[node].store = store;
    return node;
}

static void add_level(builder *b, int i, const built_lining *wall)
{
    const ks_load_level *level = &b->parts->load->levels[i];
    ks_level_nodes *nodes = &b->model->levels[i];
    nodes->shelf = add_furniture(b, level);
    nodes->face = add_wall_face(b, wall, level);
    nodes->edge = add_ware(b, &level->edge);
    nodes->air = add_node(b, KS_AIR_NODE);
    nodes->middle = add_ware(b, &level->middle);
}

/* ---- who sees whom */

/* Part of a ring that pieces standing about at random stand in the way of: few pieces take in heat
 * with all their upright surface, pi times the silhouette; many shade each other. */
static double stopped(const ks_ware_heat *ware, int node, double ring_m2)
{
    return node < 0 ? 0 : 1 - exp(-PI * ware->upright_m2 / ring_m2);
}

static void link_round_wall(builder *b, int i)
{
    const ks_load_level *level = &b->parts->load->levels[i];
    const ks_level_nodes *nodes = &b->model->levels[i];
    double ring_m2 = b->parts->load->perimeter_m * level->share * (level->to_m - level->from_m);
    double inner_m2 = 0.6 * ring_m2;
    double by_edge = stopped(&level->edge, nodes->edge, ring_m2);
    double by_middle = stopped(&level->middle, nodes->middle, inner_m2);
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
static void link_ground(builder *b, int i, int surface, double area_m2, double factor)
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

static double ground_m2(const builder *b, int i)
{
    return b->parts->load->area_m2 * b->parts->load->levels[i].share;
}

/* Around the shelf that parts two levels. */
static double ring_open_m2(const builder *b, int i, int over)
{
    double area_m2 = fmin(ground_m2(b, i), ground_m2(b, over));
    return fmax(area_m2 - b->parts->load->levels[over].shelf_m2, 0.05 * area_m2);
}

static void link_over(builder *b, int i, int over)
{
    const ks_level_nodes *nodes = b->model->levels;
    double open_m2 = ring_open_m2(b, i, over);
    add_link(b, nodes[i].air, nodes[over].air, open_m2, open_m2 * STIRRING);
    link_ground(b, i, nodes[over].shelf, b->parts->load->levels[over].shelf_m2, CLAY_TO_CLAY);
}

static void link_ends(builder *b, int i)
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
static void link_beside(builder *b, int i, int k)
{
    const ks_load_level *p = &b->parts->load->levels[i], *q = &b->parts->load->levels[k];
    double common_m = fmin(p->to_m, q->to_m) - fmax(p->from_m, q->from_m);
    if (p->share >= 1 || q->share >= 1 || common_m <= 0)
        return;
    double seam_m2 = sqrt(b->parts->load->area_m2) * common_m;
    face_each_other(b, b->model->levels[i].air, b->model->levels[k].air, seam_m2, CLAY_TO_CLAY);
}

static void link_all(builder *b)
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

/* ---- heat, air and thermocouples */

static double height_part(double from_m, double to_m, const ks_load_level *level)
{
    double common_m = fmin(to_m, level->to_m) - fmax(from_m, level->from_m);
    return common_m <= 0 ? 0 : common_m / (to_m - from_m) * level->share;
}

static void share_zones(builder *b)
{
    ks_fired_model *model = b->model;
    const ks_heat *heat = &b->parts->kiln->heat;
    const ks_heat_load *load = b->parts->load;
    model->n_zones = heat->n_zones < ZONES_MOST ? heat->n_zones : ZONES_MOST;
    model->zone_part = KS_TAKE(b->arena, load->n * model->n_zones, double);
    double weights[ZONES_MOST], sum = 0;
    for (int z = 0; z < model->n_zones; z++) {
        double met = 0;
        for (int i = 0; i < load->n; i++)
            met += height_part(heat->zones[z].from_mm * 1e-3, heat->zones[z].to_mm * 1e-3,
                               &load->levels[i]);
        for (int i = 0; i < load->n; i++)
            model->zone_part[i * model->n_zones + z] =
                met > 0 ? height_part(heat->zones[z].from_mm * 1e-3, heat->zones[z].to_mm * 1e-3,
                                      &load->levels[i]) / met
                        : 1.0 / load->n;
        weights[z] = heat->zones[z].share > 0 ? heat->zones[z].share : 0;
        sum += weights[z];
    }
    for (int z = 0; z < model->n_zones; z++)
        weights[z] = sum > 0 ? weights[z] / sum : 1.0 / model->n_zones;
    ks_fired_model_share(model, weights);
}

void ks_fired_model_share(ks_fired_model *model, const double *zone_weights)
{
    for (int i = 0; i < model->n_levels; i++) {
        double share = 0;
        for (int z = 0; z < model->n_zones; z++)
            share += zone_weights[z] * model->zone_part[i * model->n_zones + z];
        model->net.nodes[model->levels[i].air].share = share;
    }
}

static double level_part(const ks_heat_load *load, int i)
{
    return (load->levels[i].to_m - load->levels[i].from_m) * load->levels[i].share;
}

static void spread_air(builder *b)
{
    const ks_heat_load *load = b->parts->load;
    const ks_heat *heat = &b->parts->kiln->heat;
    double kg_s = (heat->vent_m3_h + heat->leak_m3_h) * b->parts->slant.air * AIR_DENSITY_20C / 3600;
    double sum = 0;
    for (int i = 0; i < load->n; i++)
        sum += level_part(load, i);
    for (int i = 0; i < load->n; i++)
        b->model->net.nodes[b->model->levels[i].air].air_kg_s = kg_s * level_part(load, i) / sum;
}

static double senses(const ks_fired_kiln *kiln, const ks_load_level *level)
{
    double sum = kiln->n_sensors == 0 ? (level->to_m - level->from_m) * level->share : 0;
    for (int s = 0; s < kiln->n_sensors; s++)
        if (kiln->sensors_m[s] >= level->from_m && kiln->sensors_m[s] < level->to_m)
            sum += level->share;
    return sum;
}

static void place_sensors(builder *b)
{
    const ks_heat_load *load = b->parts->load;
    double sum = 0;
    for (int i = 0; i < load->n; i++)
        sum += senses(b->parts->kiln, &load->levels[i]);
    for (int i = 0; i < load->n; i++)
        b->model->net.nodes[b->model->levels[i].air].sense =
            sum > 0 ? senses(b->parts->kiln, &load->levels[i]) / sum : 1.0 / load->n;
}

/* The wire's own mass goes with the wall it lies in. */
static void add_wire(builder *b)
{
    const ks_curve *wire = heat_curve(b, "heating wire");
    for (int i = 0; i < b->parts->load->n && !b->parts->kiln->fuel; i++) {
        const ks_level_nodes *nodes = &b->model->levels[i];
        ks_curve *store = KS_TAKE(b->arena, 1, ks_curve);
        double kw = b->parts->kiln->heat.rated_kw * b->model->net.nodes[nodes->air].share;
        ks_curve_add(store, WIRE_KG_PER_KW * kw, wire);
        b->model->net.nodes[nodes->face].store = store;
    }
}

static double air_heat(double temp_c, const void *nothing)
{
    return ks_air_heat(temp_c);
}

static ks_status add_all(builder *b)
{
    const ks_heat *heat = &b->parts->kiln->heat;
    const ks_heat_load *load = b->parts->load;
    double room_c = b->parts->options->room_c, e = heat->casing_emissivity;
    double flat_m = load->area_m2 / load->perimeter_m;
    built_lining wall, lid, floor;
    if (lining_of(b, &heat->wall, (ks_film){KS_UPRIGHT_FILM, load->height_m, e, room_c}, &wall) ||
        lining_of(b, &heat->lid, (ks_film){KS_UP_FILM, flat_m, e, room_c}, &lid) ||
        lining_of(b, &heat->floor, (ks_film){KS_DOWN_FILM, flat_m, e, room_c}, &floor))
        return KS_BAD_INPUT;
    b->model->floor = add_flat_face(b, &floor);
    for (int i = 0; i < load->n; i++)
        add_level(b, i, &wall);
    b->model->lid = add_flat_face(b, &lid);
    return KS_OK;
}

ks_status ks_fired_model_of(const ks_model_parts *parts, ks_arena *arena, ks_fired_model *out,
                            ks_error *err)
{
    builder b = {parts, arena, out, err, 0};
    int n = parts->load->n;
    *out = (ks_fired_model){.n_levels = n, .levels = KS_TAKE(arena, n, ks_level_nodes)};
    out->net.room_c = parts->options->room_c;
    out->net.nodes = KS_TAKE(arena, 2 + 5 * n, ks_node);
    ks_curve *air = KS_TAKE(arena, 1, ks_curve);
    ks_curve_of_function(air_heat, NULL, air);
    out->net.air_heat = air;
    if (add_all(&b))
        return KS_BAD_INPUT;
    share_zones(&b);
    spread_air(&b);
    place_sensors(&b);
    add_wire(&b);
    link_all(&b);
    ks_network_ready(&out->net, arena);
    return KS_OK;
}
