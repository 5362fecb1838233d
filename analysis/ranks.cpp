#include "analysis/ranks.hpp"

#ifdef CLEARSTROKE_MPI
#include <algorithm>
#include <cstdlib>
#include <exception>
#include <initializer_list>
#include <mutex>

#include <mpi.h>
#include <unistd.h>
#endif

namespace clearstroke {

#ifdef CLEARSTROKE_MPI

namespace {

enum Tag : int { ask, reason, texts, numbers, answer };
constexpr std::uint64_t none = ~std::uint64_t{0}, leaving = none - 1;
constexpr useconds_t pause = 200; // between looks for messages [us]

int length(std::size_t n) { return static_cast<int>(n); }

// What goes before a row: its number, status and the sizes of its parts.
struct Head {
    std::uint64_t number{none}, status{}, reason{}, text_count{}, text_bytes{}, number_count{};
};
constexpr int head_words = sizeof(Head) / sizeof(std::uint64_t);

void send_bytes(const std::string& bytes, int to, Tag tag) {
    MPI_Send(bytes.data(), length(bytes.size()), MPI_CHAR, to, tag, MPI_COMM_WORLD);
}

std::string receive_bytes(std::uint64_t size, int from, Tag tag) {
    std::string bytes(size, '\0');
    MPI_Recv(bytes.data(), length(size), MPI_CHAR, from, tag, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
    return bytes;
}

void send_row(std::uint64_t number, const Row& row) {
    std::string joined;
    for (const std::string& text : row.texts) joined += text + '\0';
    const Head head{number,
                    static_cast<std::uint64_t>(row.status),
                    row.reason.size(),
                    row.texts.size(),
                    joined.size(),
                    row.numbers.size()};
    MPI_Send(&head, head_words, MPI_UINT64_T, 0, ask, MPI_COMM_WORLD);
    send_bytes(row.reason, 0, reason);
    send_bytes(joined, 0, texts);
    MPI_Send(row.numbers.data(), length(row.numbers.size()), MPI_DOUBLE, 0, numbers, MPI_COMM_WORLD);
}

Row receive_row(const Head& head, int from) {
    Row row{static_cast<RowStatus>(head.status), receive_bytes(head.reason, from, reason), {}, {}};
    const std::string joined = receive_bytes(head.text_bytes, from, texts);
    for (std::size_t at = 0; at < joined.size(); at = joined.find('\0', at) + 1)
        row.texts.emplace_back(joined.c_str() + at);
    row.numbers.resize(head.number_count);
    MPI_Recv(row.numbers.data(), length(row.numbers.size()), MPI_DOUBLE, from, numbers, MPI_COMM_WORLD,
             MPI_STATUS_IGNORE);
    return row;
}

} // namespace

struct Ranks::Impl {
    int rank{}, size{};
    std::mutex talking;
};

std::unique_ptr<Ranks> Ranks::find() {
    const bool launched = std::ranges::any_of(
        std::initializer_list<const char*>{"OMPI_COMM_WORLD_SIZE", "PMI_SIZE", "PMIX_RANK"},
        [](const char* name) { return std::getenv(name) != nullptr; });
    if (!launched) return nullptr;
    int provided = 0;
    MPI_Init_thread(nullptr, nullptr, MPI_THREAD_SERIALIZED, &provided);
    auto impl = std::make_unique<Impl>();
    MPI_Comm_rank(MPI_COMM_WORLD, &impl->rank);
    MPI_Comm_size(MPI_COMM_WORLD, &impl->size);
    return std::unique_ptr<Ranks>(new Ranks(std::move(impl)));
}

Ranks::~Ranks() { MPI_Finalize(); }

bool Ranks::first() const { return impl_->rank == 0; }

bool Ranks::agree(bool go) {
    int word = go;
    MPI_Bcast(&word, 1, MPI_INT, 0, MPI_COMM_WORLD);
    return word != 0;
}

void Ranks::hand_out(const std::function<std::optional<std::uint64_t>()>& next,
                     const std::function<void(std::uint64_t, Row)>& take) {
    std::exception_ptr fault;
    for (int working = impl_->size - 1; working > 0;) {
        int there = 0;
        MPI_Status from;
        MPI_Iprobe(MPI_ANY_SOURCE, ask, MPI_COMM_WORLD, &there, &from);
        if (!there) {
            usleep(pause);
            continue;
        }
        Head head;
        MPI_Recv(&head, head_words, MPI_UINT64_T, from.MPI_SOURCE, ask, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
        if (head.number == leaving) {
            --working;
            continue;
        }
        std::optional<std::uint64_t> number;
        try {
            if (head.number != none) take(head.number, receive_row(head, from.MPI_SOURCE));
            number = next();
        } catch (...) {
            fault = std::current_exception(); // the others are still told that nothing is left
        }
        const std::uint64_t said = number.value_or(none);
        MPI_Send(&said, 1, MPI_UINT64_T, from.MPI_SOURCE, answer, MPI_COMM_WORLD);
    }
    if (fault) std::rethrow_exception(fault);
}

std::optional<std::uint64_t> Ranks::next(const std::optional<std::pair<std::uint64_t, Row>>& done) {
    const std::lock_guard lock(impl_->talking);
    if (done) {
        send_row(done->first, done->second);
    } else {
        const Head head;
        MPI_Send(&head, head_words, MPI_UINT64_T, 0, ask, MPI_COMM_WORLD);
    }
    std::uint64_t number = none;
    MPI_Recv(&number, 1, MPI_UINT64_T, 0, answer, MPI_COMM_WORLD, MPI_STATUS_IGNORE);
    return number == none ? std::nullopt : std::optional(number);
}

void Ranks::leave() {
    Head head;
    head.number = leaving;
    MPI_Send(&head, head_words, MPI_UINT64_T, 0, ask, MPI_COMM_WORLD);
}

#else

struct Ranks::Impl {};

std::unique_ptr<Ranks> Ranks::find() { return nullptr; }
Ranks::~Ranks() = default;
bool Ranks::first() const { return true; }
bool Ranks::agree(bool go) { return go; }
void Ranks::hand_out(const std::function<std::optional<std::uint64_t>()>&,
                     const std::function<void(std::uint64_t, Row)>&) {}
std::optional<std::uint64_t> Ranks::next(const std::optional<std::pair<std::uint64_t, Row>>&) {
    return std::nullopt;
}
void Ranks::leave() {}

#endif

Ranks::Ranks(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}

} // namespace clearstroke
