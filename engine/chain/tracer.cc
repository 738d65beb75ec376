#include <algorithm>
#include <boost/graph/breadth_first_search.hpp>
#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <utility>

#include "chain/chain.h"

// The graph is built anew for each patching instead of filtering one graph of all joints that could
// ever be made: those grow with plugs times jacks, the joints that are made only with the elements.
namespace whichlink::chain {
namespace {

// Each edge is there both ways. All of them lie in one array: many small lists, one a conductor,
// would take longer to make than to search.
using Graph =
    boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, boost::no_property,
                                       boost::no_property, std::uint32_t, std::uint32_t>;
using Vertex = boost::graph_traits<Graph>::vertex_descriptor;
using Edges = std::vector<std::pair<Vertex, Vertex>>;

void add_edge(ConductorId a, ConductorId b, Edges& edges) {
  edges.emplace_back(a.value, b.value);
  edges.emplace_back(b.value, a.value);
}

void join_plugged(const Chain& chain, const Patching& patching, Edges& edges) {
  for (const ElementId plug : chain.elements.ids()) {
    const std::optional<ElementId> jack = patching.plug_in[plug];
    if (!jack) continue;
    const auto& ours = chain.elements[plug].conductors;
    const auto& theirs = chain.elements[*jack].conductors;
    for (std::size_t lane = 0; lane < std::min(ours.size(), theirs.size()); ++lane) {
      add_edge(ours[lane], theirs[lane], edges);
    }
  }
}

Edges base_edges(const Chain& chain, const Patching& patching) {
  Edges edges;
  edges.reserve(2 * (chain.bonds.size() + chain.conductors.size() + chain.switches.size()));
  for (const Bond& bond : chain.bonds) add_edge(bond.a, bond.b, edges);
  join_plugged(chain, patching, edges);
  return edges;
}

// The edges of a conductor stay in the order in which they were added.
Graph graph_of(const Chain& chain, const Edges& edges) {
  return {boost::edges_are_unsorted_multi_pass, edges.begin(), edges.end(),
          static_cast<Vertex>(chain.conductors.size())};
}

// Remembers from where each vertex was reached, and whether a ring closed on the way.
class Walk : public boost::default_bfs_visitor {
 public:
  Walk(std::vector<Vertex>& before, std::vector<Vertex>& ring, std::vector<Vertex>& order)
      : before_(before), ring_(ring), order_(order) {}
  void discover_vertex(Vertex vertex, const Graph& /*graph*/) { order_.push_back(vertex); }
  template <class Edge>
  void tree_edge(const Edge& edge, const Graph& graph) {
    before_[boost::target(edge, graph)] = boost::source(edge, graph);
  }
  // Met again by an edge that is not the one we came by: two ways lead here.
  template <class Edge>
  void non_tree_edge(const Edge& edge, const Graph& graph) {
    const Vertex from = boost::source(edge, graph);
    const Vertex to = boost::target(edge, graph);
    if (before_[from] == to || before_[to] == from) return;
    if (ring_.empty()) ring_ = {from, to};
  }

 private:
  std::vector<Vertex>& before_;
  std::vector<Vertex>& ring_;
  std::vector<Vertex>& order_;
};

ConductorId conductor_of(Vertex vertex) {
  return {static_cast<std::uint32_t>(vertex)};
}

std::vector<ConductorId> conductors_of(const std::vector<Vertex>& vertices) {
  std::vector<ConductorId> conductors;
  conductors.reserve(vertices.size());
  for (const Vertex vertex : vertices) conductors.push_back(conductor_of(vertex));
  return conductors;
}

std::vector<ConductorId> way_to(Vertex end, const std::vector<Vertex>& before, Vertex start) {
  std::vector<ConductorId> way;
  for (Vertex at = end;; at = before[at]) {
    way.push_back(conductor_of(at));
    if (at == start) break;
  }
  std::reverse(way.begin(), way.end());
  return way;
}

}  // namespace

Tracer::Tracer(const Chain& chain, std::vector<bool> is_end)
    : chain_(chain), is_end_(std::move(is_end)) {}

Traced Tracer::trace(RouteId route, const Patching& patching) const {
  const Route& wanted = chain_.routes[route];
  Edges edges = base_edges(chain_, patching);
  for (const Switch& way : chain_.switches) {
    if (wanted.selects == way.selected) add_edge(way.common, way.selected, edges);
  }
  const Graph graph = graph_of(chain_, edges);
  const Vertex start = wanted.from.value;
  std::vector<Vertex> before(chain_.conductors.size(), start);
  std::vector<Vertex> ring;
  std::vector<Vertex> order;
  boost::breadth_first_search(graph, start, boost::visitor(Walk(before, ring, order)));

  Traced traced;
  for (const Vertex vertex : order) {
    if (is_end_[vertex] && vertex != start) traced.ends.push_back(conductor_of(vertex));
  }
  traced.ring = conductors_of(ring);
  if (!ring.empty()) {
    traced.fault = Fault::looped;
  } else if (traced.ends.size() > 1) {
    traced.fault = Fault::forked;
  } else if (traced.ends.empty()) {
    traced.fault = Fault::broken;
    traced.path.conductors = way_to(order.back(), before, start);
  } else {
    traced.path.conductors = way_to(traced.ends.front().value, before, start);
    traced.path.complete = true;
  }
  return traced;
}

std::vector<ConductorId> Tracer::ring(const Patching& patching) const {
  Edges edges = base_edges(chain_, patching);
  for (const Switch& way : chain_.switches) add_edge(way.common, way.selected, edges);
  const Graph graph = graph_of(chain_, edges);
  std::vector<bool> seen(chain_.conductors.size(), false);
  for (Vertex start = 0; start < chain_.conductors.size(); ++start) {
    if (seen[start]) continue;
    std::vector<Vertex> before(chain_.conductors.size(), start);
    std::vector<Vertex> ring;
    std::vector<Vertex> order;
    boost::breadth_first_search(graph, start, boost::visitor(Walk(before, ring, order)));
    for (const Vertex vertex : order) seen[vertex] = true;
    if (!ring.empty()) return conductors_of(ring);
  }
  return {};
}

}  // namespace whichlink::chain
