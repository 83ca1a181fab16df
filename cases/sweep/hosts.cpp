#include "cases/sweep/hosts.hpp"

#include <mpi.h>

#include <cstdlib>

namespace cw::cases {

bool Hosts::launched() {
  // Open MPI's mpirun sets the first; launchers that use PMIx or PMI-2, such as Slurm's, the
  // others.
  for (const char* name : {"OMPI_COMM_WORLD_SIZE", "PMIX_RANK", "PMI_RANK"})
    if (std::getenv(name) != nullptr) return true;
  return false;
}

Hosts::Hosts() {
  MPI_Init(nullptr, nullptr);
  MPI_Comm_rank(MPI_COMM_WORLD, &rank_);
  MPI_Comm_size(MPI_COMM_WORLD, &size_);
}

Hosts::~Hosts() {
  MPI_Finalize();
}

std::string Hosts::share(std::string bytes) const {
  unsigned long length = bytes.size();
  MPI_Bcast(&length, 1, MPI_UNSIGNED_LONG, 0, MPI_COMM_WORLD);
  bytes.resize(length);
  MPI_Bcast(bytes.data(), static_cast<int>(length), MPI_CHAR, 0, MPI_COMM_WORLD);
  return bytes;
}

void Hosts::send(const Message& message) {
  MPI_Send(message.bytes.data(), static_cast<int>(message.bytes.size()), MPI_CHAR, message.rank,
           static_cast<int>(message.kind), MPI_COMM_WORLD);
}

std::optional<Message> Hosts::receive() {
  int there = 0;
  MPI_Status status;
  MPI_Iprobe(MPI_ANY_SOURCE, MPI_ANY_TAG, MPI_COMM_WORLD, &there, &status);
  if (there == 0) return std::nullopt;
  int length = 0;
  MPI_Get_count(&status, MPI_CHAR, &length);
  Message message;
  message.kind = static_cast<Message::Kind>(status.MPI_TAG);
  message.rank = status.MPI_SOURCE;
  message.bytes.resize(static_cast<std::size_t>(length));
  MPI_Recv(message.bytes.data(), length, MPI_CHAR, status.MPI_SOURCE, status.MPI_TAG,
           MPI_COMM_WORLD, MPI_STATUS_IGNORE);
  return message;
}

void Hosts::abandon(int exit_code) {
  MPI_Abort(MPI_COMM_WORLD, exit_code);
  std::_Exit(exit_code);
}

}  // namespace cw::cases
