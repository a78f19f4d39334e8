package structure
import ("testing";"os";"fmt";"time")
func TestZZ(t *testing.T){
	for _,c := range readMachineCases(t, os.Getenv("ZZ"), 1) {
		for _, b := range []*Builder{{}, {Detail:Solid,Mesh:3},{Detail:Solid},{Detail:Solid,Mesh:2}, {Detail: Solid, Mesh: 1}} {
			t0:=time.Now()
			r:=c.rows(t,b)
			fmt.Println(b.Detail,b.Mesh,time.Since(t0))
			for _,x:=range r { fmt.Printf("%-30s %+.2f %+.2f %+.2f\n",x.patch,100*x.off[0],100*x.off[1],100*x.off[2])}
		}
	}
}
