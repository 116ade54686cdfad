package regress
import ("testing";"fmt")
func TestX(t *testing.T){
 for _,nu:=range []float64{0.5,1,2.3,4,18,59.9,60.1,1e3,1e5,9.9e5,1.1e6,1e8}{ s:=NewStudent(nu); for _,x:=range []float64{1e-8,.1,1,2.4,2.5,3,6,10}{ fmt.Printf("%g %g %.17g %.17g\n",nu,x,s.Tail(x),s.Density(x))}}
 for _,nu:=range []float64{0.5,1,2.3,4,18,59.9,60.1,1e3,1e5,9.9e5,1.1e6,1e8}{ s:=NewStudent(nu); for _,p:=range []float64{1e-6,.001,.01,.1,.3,.499}{ fmt.Printf("Q %g %g %.17g\n",nu,p,s.Quantile(p))}}
}
func BenchmarkTail(b *testing.B){ s:=NewStudent(1004); for b.Loop(){ s.CDF(1.3) } }
func BenchmarkTail2(b *testing.B){ s:=NewStudent(1004); for b.Loop(){ s.CDF(3) } }
func BenchmarkQ(b *testing.B){ s:=NewStudent(1004); for b.Loop(){ s.Quantile(.9) } }
