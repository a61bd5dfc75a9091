// What every endpoint that changes something answers: done, made, or why not.
global using ChangeResult = Microsoft.AspNetCore.Http.HttpResults.Results<Microsoft.AspNetCore.Http.HttpResults.Ok<Drainboard.Web.Features.Door.DoneBody>, Microsoft.AspNetCore.Http.HttpResults.Created<Drainboard.Web.Features.Door.DoneBody>, Microsoft.AspNetCore.Http.HttpResults.ProblemHttpResult>;
