package sdk

import (
	"context"
	"errors"
	"fmt"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// version is what the plugin says it was built with.
const version = "canewright sdk 1"

// server answers the three calls from what was worked out before the first.
type server struct {
	dimsetv1.UnimplementedDimensionSetsServer
	describe *dimsetv1.DescribeResponse
	list     *dimsetv1.ListResponse
	sets     []*dimsetv1.Set
}

func newServer(instruments []Instrument) (*server, error) {
	if len(instruments) == 0 {
		return nil, errors.New("there is no instrument to serve")
	}
	first := instruments[0]
	s := &server{
		describe: &dimsetv1.DescribeResponse{
			Id: first.ID, PluginVersion: first.Version, SdkVersion: version,
			Contact: first.Contact, Wire: proto.Wire,
		},
		list: &dimsetv1.ListResponse{},
	}
	for _, in := range instruments {
		set, err := in.wire()
		if err != nil {
			return nil, err
		}
		s.sets = append(s.sets, set)
		sum := &dimsetv1.Summary{Id: set.Id, Major: set.Major, Minor: set.Minor, Title: set.Title}
		if in.Version != first.Version {
			sum.PluginVersion = in.Version
		}
		if in.Contact != first.Contact {
			sum.Contact = in.Contact
		}
		s.list.Sets = append(s.list.Sets, sum)
	}
	return s, nil
}

// What the host can do and what it asks beyond this wire is of no interest:
// unknown fields and capabilities are ignored by not being looked at.
func (s *server) Describe(context.Context, *dimsetv1.DescribeRequest) (*dimsetv1.DescribeResponse, error) {
	return s.describe, nil
}

func (s *server) List(context.Context, *dimsetv1.ListRequest) (*dimsetv1.ListResponse, error) {
	return s.list, nil
}

func (s *server) Get(_ context.Context, r *dimsetv1.GetRequest) (*dimsetv1.GetResponse, error) {
	for _, set := range s.sets {
		if set.Id == r.GetId() && set.Major == r.GetMajor() {
			return &dimsetv1.GetResponse{Set: set}, nil
		}
	}
	return nil, status.Errorf(codes.NotFound, "no dimension set %s %d here", r.GetId(), r.GetMajor())
}

// panicsAreErrors keeps one bad call from ending the program.
func panicsAreErrors(ctx context.Context, req any, info *grpc.UnaryServerInfo, next grpc.UnaryHandler) (resp any, err error) {
	defer func() {
		if r := recover(); r != nil {
			resp, err = nil, status.Error(codes.Internal, fmt.Sprintf("panic in %s: %v", info.FullMethod, r))
		}
	}()
	return next(ctx, req)
}

func serverOptions() []grpc.ServerOption {
	return []grpc.ServerOption{grpc.ChainUnaryInterceptor(panicsAreErrors)}
}
