#pragma once

#include <functional>
#include <vector>

namespace cw {

/// Calls every task once, in as many processes at the same time as there are processors, this one
/// included. Only for tasks that write files: changes in memory are lost. Not in threads, because
/// VTK keeps state that all threads would share. After a task has failed no further one begins;
/// then throws WriteError with the message of the first that failed, or std::bad_alloc if memory
/// ran out. If no process can be started, this one does everything.
void among_processes(const std::vector<std::function<void()>>& tasks);

}  // namespace cw
